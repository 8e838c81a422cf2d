/** Between the store's values and the wire: instants as ISO 8601, absent fields left out. */
import type { LatestReading } from '../store/channels/channels.ts';
import { countsPerStored } from '../units.ts';
import type { Assignment, Owner } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Assignment as AssignmentDto, Hive as HiveDto } from '../contract/places.ts';
import { boxKinds } from '../contract/places.ts';

export const iso = (ms: number): string => new Date(ms).toISOString();
export const isoOrNull = (ms: number | null | undefined): string | null =>
  ms === null || ms === undefined ? null : iso(ms);
export const msOf = (time: string): number => Date.parse(time);

/** What a scale without a calibration sent, in counts; null for every other reading. */
export const rawCountsOf = (latest: LatestReading | null): number | null =>
  latest?.suspect === 'uncalibrated' ? latest.rawValue * countsPerStored : null;

/** Whether a newest reading is believed, and whether it can be a measurement at all. */
export const doubtOf = ({ suspect }: LatestReading): { suspect: boolean; impossible?: true } => ({
  suspect: suspect !== null,
  ...(suspect === 'sentinel' || suspect === 'range' ? { impossible: true } : {}),
});

type Present<T> = { [K in keyof T]: Exclude<T[K], undefined> };
/** The same without the fields that are `undefined`: what the parser calls absent, the store leaves out. */
export function present<T extends object>(value: T): Present<T> {
  return Object.fromEntries(Object.entries(value).filter(([, field]) => field !== undefined)) as Present<T>;
}

/** Every field by name, also one that may be absent: a field that is forgotten does not compile. */
export type Whole<T> = { readonly [K in keyof Required<T>]: T[K] | undefined };

const isBoxKind = (kind: unknown): kind is HiveDto['box'] => (boxKinds as readonly unknown[]).includes(kind);

export const hiveToWire = (hive: Hive): HiveDto =>
  present<Whole<HiveDto>>({
    id: hive.id,
    name: hive.name,
    siteId: hive.siteId,
    role: hive.role,
    parentHiveId: hive.parentHiveId,
    batch: hive.batch,
    box: isBoxKind(hive.box.kind) ? hive.box.kind : 'other',
    emptyKg: hive.box.emptyKg,
    note: hive.note,
    createdAt: iso(hive.createdAtMs),
    retiredAt: hive.retiredAtMs === undefined ? undefined : iso(hive.retiredAtMs),
  });

export const ownerToWire = (owner: Owner): { hiveId: string } | { siteId: string } =>
  'hiveId' in owner ? { hiveId: owner.hiveId } : { siteId: owner.siteId };

export const assignmentToWire = (one: Assignment): AssignmentDto =>
  present({
    id: one.id,
    channelId: one.channelId,
    ...ownerToWire(one.owner),
    place: one.position,
    from: iso(one.fromMs),
    to: one.toMs === null ? undefined : iso(one.toMs),
  });
