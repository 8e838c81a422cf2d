/** Which channel stands where, from when to when. History belongs to the place; a sensor can be replaced. */
import { isDeepStrictEqual } from 'node:util';
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export type Position = 'scale' | 'brood' | 'cage' | 'outside' | 'rain' | 'humidity' | 'battery';

export type Owner = { readonly hiveId: string } | { readonly siteId: string };

export interface Assignment {
  readonly id: number;
  readonly channelId: number;
  readonly owner: Owner;
  readonly position: Position;
  readonly fromMs: number;
  /** Not in it; null while it stands there. */
  readonly toMs: number | null;
}

/** A part of a place's history that one channel tells. */
export interface Stretch {
  readonly channelId: number;
  readonly fromMs: number;
  readonly toMs: number;
}

interface AssignmentRow {
  readonly id: number;
  readonly channel_id: number;
  readonly hive_id: string | null;
  readonly site_id: string | null;
  readonly spot: Position;
  readonly from_ms: number;
  readonly to_ms: number | null;
}

export interface Assignments {
  /** Newest start first. */
  listAssignments(): Assignment[];
  assignment(id: number): Assignment | undefined;
  assignmentsOf(owner: Owner): Assignment[];
  assignmentsOfChannel(channelId: number): Assignment[];
  /** What stands where at an instant. */
  assignmentsAt(atMs: number): Assignment[];
  /**
   * The same twice is one. Throws `StoreConflict`, naming what is in the way, where the channel stands somewhere else in
   * that time.
   */
  assign(assignment: Omit<Assignment, 'id'>): Assignment;
  /**
   * The same, and ends where it begins what still stands in its way: its channel elsewhere, other channels at its place.
   * All of it or nothing.
   */
  takeOver(assignment: Omit<Assignment, 'id'>): Assignment;
  /** Moves the start or the end; the same checks. */
  changeAssignment(
    id: number,
    change: { readonly fromMs?: number; readonly toMs?: number | null },
  ): Assignment;
  removeAssignment(id: number): boolean;
  /** A place's history in stretches without overlap, ascending; where two channels stood, the one assigned last. */
  stretches(owner: Owner, position: Position, fromMs: number, toMs: number): Stretch[];
}

const toAssignment = (row: AssignmentRow): Assignment => ({
  id: row.id,
  channelId: row.channel_id,
  owner: row.hive_id === null ? { siteId: row.site_id ?? '' } : { hiveId: row.hive_id },
  position: row.spot,
  fromMs: row.from_ms,
  toMs: row.to_ms,
});

const hiveOf = (owner: Owner): string | null => ('hiveId' in owner ? owner.hiveId : null);
const siteOf = (owner: Owner): string | null => ('siteId' in owner ? owner.siteId : null);

const statements = (db: Context['db']) => ({
  all: db.prepare<[], AssignmentRow>('SELECT * FROM assignment ORDER BY from_ms DESC, id DESC'),
  one: db.prepare<[number], AssignmentRow>('SELECT * FROM assignment WHERE id = ?'),
  ofHive: db.prepare<[string], AssignmentRow>(
    'SELECT * FROM assignment WHERE hive_id = ? ORDER BY from_ms, id',
  ),
  ofSite: db.prepare<[string], AssignmentRow>(
    'SELECT * FROM assignment WHERE site_id = ? ORDER BY from_ms, id',
  ),
  ofChannel: db.prepare<[number], AssignmentRow>(
    'SELECT * FROM assignment WHERE channel_id = ? ORDER BY from_ms, id',
  ),
  at: db.prepare<[number, number], AssignmentRow>(
    'SELECT * FROM assignment WHERE from_ms <= ? AND (to_ms IS NULL OR to_ms > ?) ORDER BY from_ms, id',
  ),
  insert: db.prepare<[number, string | null, string | null, string, number, number | null]>(
    'INSERT INTO assignment (channel_id, hive_id, site_id, spot, from_ms, to_ms) VALUES (?, ?, ?, ?, ?, ?)',
  ),
  update: db.prepare<[number, number | null, number]>(
    'UPDATE assignment SET from_ms = ?, to_ms = ? WHERE id = ?',
  ),
  remove: db.prepare<[number]>('DELETE FROM assignment WHERE id = ?'),
  hiveName: db.prepare<[string], string>('SELECT name FROM hive WHERE id = ?').pluck(),
  siteName: db.prepare<[string], string>('SELECT name FROM site WHERE id = ?').pluck(),
  channelKnown: db.prepare<[number]>('SELECT 1 FROM channel WHERE id = ?'),
});

type Statements = ReturnType<typeof statements>;

const nameOf = ({ hiveName, siteName }: Statements, owner: Owner): string | undefined =>
  'hiveId' in owner ? hiveName.get(owner.hiveId) : siteName.get(owner.siteId);

/** Throws `StoreConflict` where it can't be stored. */
function check(prepared: Statements, wanted: Omit<Assignment, 'id'>, exceptId: number | undefined): void {
  if (!prepared.channelKnown.get(wanted.channelId)) {
    throw new StoreConflict(`There is no channel ${String(wanted.channelId)}.`);
  }
  if (nameOf(prepared, wanted.owner) === undefined) {
    throw new StoreConflict(
      `There is no ${'hiveId' in wanted.owner ? 'hive' : 'site'} ${hiveOf(wanted.owner) ?? siteOf(wanted.owner) ?? ''}.`,
    );
  }
  if (wanted.toMs !== null && wanted.toMs <= wanted.fromMs) {
    throw new StoreConflict('An assignment must end after it begins.');
  }
  const inTheWay = prepared.ofChannel
    .all(wanted.channelId)
    .map(toAssignment)
    .find((other) => other.id !== exceptId && overlap(other, wanted));
  if (!inTheWay) return;
  throw new StoreConflict(
    `Channel ${String(wanted.channelId)} stands at ${nameOf(prepared, inTheWay.owner) ?? 'another place'} (${inTheWay.position}) from ` +
      `${iso(inTheWay.fromMs)} ${inTheWay.toMs === null ? 'until now' : `to ${iso(inTheWay.toMs)}`}: end that first.`,
  );
}

export function assignments(context: Context): Assignments {
  const prepared = statements(context.db);
  const { all, one, ofHive, ofSite, ofChannel, at, insert, update, remove } = prepared;

  const same = (wanted: Omit<Assignment, 'id'>): Assignment | undefined =>
    ofChannel
      .all(wanted.channelId)
      .map(toAssignment)
      .find(({ id: _id, ...one }) => isDeepStrictEqual(one, wanted));

  const add = (wanted: Omit<Assignment, 'id'>): Assignment => {
    check(prepared, wanted, undefined);
    const { channelId, owner, position, fromMs, toMs } = wanted;
    const { lastInsertRowid } = insert.run(channelId, hiveOf(owner), siteOf(owner), position, fromMs, toMs);
    return { ...wanted, id: Number(lastInsertRowid) };
  };

  const ofOwner = (owner: Owner): Assignment[] =>
    ('hiveId' in owner ? ofHive.all(owner.hiveId) : ofSite.all(owner.siteId)).map(toAssignment);

  /** What still stands where its channel or its place is wanted. */
  const inTheWayOf = ({ channelId, owner, position }: Omit<Assignment, 'id'>): Assignment[] =>
    [
      ...ofChannel.all(channelId).map(toAssignment),
      ...ofOwner(owner).filter((one) => one.position === position && one.channelId !== channelId),
    ].filter(({ toMs }) => toMs === null);

  return {
    listAssignments: () => all.all().map(toAssignment),
    assignment(id) {
      const row = one.get(id);
      return row && toAssignment(row);
    },
    assignmentsOf: ofOwner,
    assignmentsOfChannel: (channelId) => ofChannel.all(channelId).map(toAssignment),
    assignmentsAt: (atMs) => at.all(atMs, atMs).map(toAssignment),
    assign: (wanted) => context.write(() => same(wanted) ?? add(wanted)),
    takeOver: (wanted) =>
      context.write(() => {
        const there = same(wanted);
        if (there) return there;
        for (const { id, fromMs, owner, position } of inTheWayOf(wanted)) {
          if (fromMs >= wanted.fromMs)
            throw new StoreConflict(
              `What stands at ${nameOf(prepared, owner) ?? 'that place'} (${position}) came there after that: choose a later day and time.`,
            );
          update.run(fromMs, wanted.fromMs, id);
        }
        return add(wanted);
      }),
    changeAssignment: (id, change) =>
      context.write(() => {
        const row = one.get(id);
        if (!row) throw new StoreConflict(`There is no assignment ${String(id)}.`);
        const before = toAssignment(row);
        const wanted: Assignment = {
          ...before,
          fromMs: change.fromMs ?? before.fromMs,
          toMs: change.toMs === undefined ? before.toMs : change.toMs,
        };
        check(prepared, wanted, id);
        update.run(wanted.fromMs, wanted.toMs, id);
        return wanted;
      }),
    removeAssignment: (id) => context.write(() => remove.run(id).changes > 0),
    stretches: (owner, position, fromMs, toMs) =>
      stretchesOf(
        ofOwner(owner).filter((one) => one.position === position),
        fromMs,
        toMs,
      ),
  };
}

const overlap = (a: Omit<Assignment, 'id'>, b: Omit<Assignment, 'id'>): boolean =>
  a.fromMs < (b.toMs ?? Infinity) && b.fromMs < (a.toMs ?? Infinity);

const iso = (ms: number): string => new Date(ms).toISOString();

/** `standing` ascends by start; a later start wins from its start on, and gives back when it ends. */
export function stretchesOf(standing: readonly Assignment[], fromMs: number, toMs: number): Stretch[] {
  const edges = new Set([fromMs, toMs]);
  for (const { fromMs: from, toMs: to } of standing) {
    for (const edge of [from, to ?? Infinity]) if (edge > fromMs && edge < toMs) edges.add(edge);
  }
  const ascending = [...edges].sort((a, b) => a - b);
  const stretches: Stretch[] = [];
  for (let i = 1; i < ascending.length; i += 1) {
    const from = ascending[i - 1] ?? 0;
    const to = ascending[i] ?? 0;
    const winner = standing.findLast((one) => one.fromMs <= from && (one.toMs ?? Infinity) >= to);
    if (!winner) continue;
    const before = stretches.at(-1);
    if (before?.channelId === winner.channelId && before.toMs === from) {
      stretches[stretches.length - 1] = { ...before, toMs: to };
    } else {
      stretches.push({ channelId: winner.channelId, fromMs: from, toMs: to });
    }
  }
  return stretches;
}
