/**
 * Takes an export (`lines.ts`) in, line by line. What is there already stays as it is; a line that won't do is
 * reported and the others go on, so the same file can be sent again after it was mended.
 */
import { nestedTooDeep, parseJson } from '../../json-text.ts';
import { StoreConflict } from '../../store/errors.ts';
import type { Store } from '../../store/store.ts';
import { UserError } from '../../user-error.ts';
import { msOf, present } from '../../farm/wire.ts';
import type { Line } from './lines.ts';
import { renumbered } from './channel-numbers.ts';
import {
  channelOf,
  unlessThere,
  type Handler,
  type Handlers,
  type KeyOf,
  type Outcome,
} from './import-outcome.ts';
import { besides, readings } from './import-readings.ts';
import { createPace } from './pace.ts';
import type { ImportReport } from './import-report.ts';
import { leaveOut, newReport, refuse } from './import-report.ts';
import { exportFormat, lineSchema, mostInALine, tuples } from './lines.ts';
import { importedSetting } from './portable-settings.ts';

function places({ places: store }: Store): Pick<Handlers, 'site' | 'hive'> {
  return {
    site: ({ kind: _kind, ...site }) => unlessThere(store.site(site.id), () => store.putSite(present(site))),
    hive: ({ kind: _kind, box, emptyKg, createdAt, retiredAt, ...hive }) =>
      unlessThere(store.hive(hive.id), () =>
        store.putHive(
          present({
            ...hive,
            box: present({ kind: box, emptyKg }),
            createdAtMs: msOf(createdAt),
            retiredAtMs: retiredAt === undefined ? undefined : msOf(retiredAt),
          }),
        ),
      ),
  };
}

function breeding(store: Store): Pick<Handlers, 'arrival' | 'queen' | 'introduction' | 'log'> {
  const { queens, introductions } = store;
  return {
    arrival: ({ kind: _kind, ...arrival }) =>
      unlessThere(queens.arrival(arrival.id), () => queens.putArrival(present(arrival))),
    queen: ({ kind: _kind, ...queen }) =>
      unlessThere(queens.queen(queen.id), () => queens.putQueen(present(queen))),
    introduction: ({ kind: _kind, openedAt, closedAt, ...introduction }) =>
      unlessThere(introductions.get(introduction.id), () =>
        introductions.open(
          present({
            ...introduction,
            openedAtMs: msOf(openedAt),
            closedAtMs: closedAt === undefined ? undefined : msOf(closedAt),
          }),
        ),
      ),
    log: ({ entry }) => {
      const [written] = introductions.append([entry]);
      if (written?.result === 'refused') throw new StoreConflict(written.problems.join(' '));
      return written?.result === 'stored' ? 'added' : 'already-there';
    },
  };
}

function hiveVisits({ hiveVisits: visits }: Store): Pick<Handlers, 'hive-visit'> {
  return {
    'hive-visit': ({ kind: _kind, what, happenedAt, writtenAt, withdrawnAt, ...visit }) =>
      unlessThere(visits.get(visit.id), () =>
        visits.add(
          present({
            ...visit,
            kind: what,
            happenedAtMs: msOf(happenedAt),
            writtenAtMs: msOf(writtenAt),
            withdrawnAtMs: withdrawnAt === undefined ? undefined : msOf(withdrawnAt),
          }),
        ),
      ),
  };
}

function sensors(
  store: Store,
  by: string,
): Pick<Handlers, 'channel' | 'calibration' | 'assignment' | 'mapping'> {
  const { channels, places: stands, mappings } = store;
  return {
    channel: ({ channel, lastKnown }) => {
      const there = channels.find(channel);
      if (there) return 'already-there';
      channels.ensure(channel);
      if (lastKnown) {
        const [receivedAt, value] = lastKnown;
        const known = [{ ...channel, value, receivedAtMs: msOf(receivedAt) }];
        store.ingest.commit({ readings: [], quarantined: [], lastKnown: known });
      }
      return 'added';
    },
    calibration: ({ channel, fact: { from, ...fact }, writtenAt, by: whose }) => {
      const { id } = channelOf(store, channel);
      const fromMs = msOf(from);
      const same = channels
        .calibrationsOf(id)
        .some(
          (one) => one.fromMs === fromMs && JSON.stringify(sorted(one.fact)) === JSON.stringify(sorted(fact)),
        );
      return unlessThere(same, () =>
        channels.calibrate(
          id,
          fromMs,
          fact,
          whose ?? by,
          writtenAt === undefined ? undefined : msOf(writtenAt),
        ),
      );
    },
    assignment: ({ channel, hiveId, siteId, place, from, to }) => {
      const { id } = channelOf(store, channel);
      const owner = hiveId === undefined ? { siteId: siteId ?? '' } : { hiveId };
      const wanted = {
        channelId: id,
        owner,
        position: place,
        fromMs: msOf(from),
        toMs: to === undefined ? null : msOf(to),
      };
      const same = stands
        .assignmentsOfChannel(id)
        .some(({ id: _number, ...one }) => JSON.stringify(sorted(one)) === JSON.stringify(sorted(wanted)));
      return unlessThere(same, () => stands.assign(wanted));
    },
    mapping: ({ kind: _kind, ...mapping }) =>
      unlessThere(mappings.get(mapping.id), () => mappings.put(mapping)),
  };
}
const sorted = (value: object): unknown => Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));

type Alert = Omit<Extract<Line, { kind: 'alert' }>, 'kind' | 'changedAt' | 'channels'>;

/** An alert with the numbers that its channels have here; null where that of the channel that it is about is unknown. */
function asHere(store: Store, alert: Alert, channels: readonly [number, KeyOf][]): Alert | null {
  const numbers = new Map(channels.map(([id, key]) => [id, channelOf(store, key).id]));
  const { kind, id } = alert.subject;
  if (kind === 'channel' && !numbers.has(Number(id))) return null;
  return renumbered(alert, (number) => numbers.get(number) ?? number) as Alert;
}

function pageSettings(store: Store, by: string): Pick<Handlers, 'setting' | 'alert'> {
  const { settings, alerts } = store;
  return {
    setting: ({ key, value }) => {
      const portable = importedSetting(key, value);
      const isNew = portable.value !== undefined && settings.get(key) === undefined;
      if (isNew) settings.put(key, portable.value, { by });
      if (portable.value !== undefined && !isNew) return 'already-there';
      return { added: isNew ? 1 : 0, alreadyThere: 0, leftOut: portable.leftOut };
    },
    alert: ({ kind: _kind, changedAt, channels = [], ...given }) => {
      const alert = asHere(store, given, channels);
      if (!alert) return 'left-out';
      return unlessThere(alerts.get(alert.id), () => {
        const { state, message } = alert;
        alerts.save({ ...alert, state, message, changedAtMs: msOf(changedAt) });
      });
    },
  };
}

function handlersFor(store: Store, by: string, nowMs: () => number): Handlers {
  return {
    ...places(store),
    ...breeding(store),
    ...hiveVisits(store),
    ...sensors(store, by),
    ...pageSettings(store, by),
    ...readings(store, nowMs),
    ...besides(store),
    'welcomb-export': () => 'left-out',
    end: () => 'left-out',
  };
}

/** Lines that need something that comes later in an export: a channel exists from its first reading on. */
const waits = (line: Line): boolean => line.kind === 'calibration' || line.kind === 'assignment';

/** Further ones are tried at once: their channels may be there. */
const mostWaiting = 50_000;

export interface Importer {
  /** False where there are too many bad lines to go on. */
  take(text: string): boolean;
  /** After the last line. */
  finish(): Promise<ImportReport>;
}

/** @param by who imports, for the calibrations and settings that come in */
export function createImporter(store: Store, by: string, nowMs: () => number): Importer {
  const handlers = handlersFor(store, by, nowMs);
  const report = newReport();
  const waiting: { line: Line; number: number }[] = [];
  let number = 0;

  const count = (outcome: Outcome, at: number): void => {
    if (outcome === 'added') report.added += 1;
    else if (outcome === 'already-there') report.alreadyThere += 1;
    else if (outcome === 'left-out') report.leftOut += 1;
    else {
      report.added += outcome.added;
      report.alreadyThere += outcome.alreadyThere;
      if (outcome.added + outcome.alreadyThere === 0 && outcome.leftOut) report.leftOut += 1;
      for (const detail of outcome.leftOut ?? []) leaveOut(report, at, detail);
    }
  };
  const apply = (line: Line, at: number): boolean => {
    try {
      count((handlers[line.kind] as Handler<Line['kind']>)(line as never), at);
      return true;
    } catch (error) {
      if (!(error instanceof StoreConflict)) throw error;
      return refuse(report, at, error.message);
    }
  };

  return {
    take(text) {
      number += 1;
      if (text.trim() === '') return true;
      const parsed = readLine(text);
      if (number === 1 && !('line' in parsed && parsed.line.kind === 'welcomb-export')) {
        throw new UserError(
          'invalid-input',
          `This is no export that can be read here (format ${String(exportFormat)}): its first line does not say so.`,
        );
      }
      if ('problem' in parsed) return refuse(report, number, parsed.problem);
      if (parsed.line.kind === 'end') report.complete = parsed.line.lines === number - 1;
      else if (waits(parsed.line) && waiting.length < mostWaiting)
        waiting.push({ line: parsed.line, number });
      else return apply(parsed.line, number);
      return true;
    },
    async finish() {
      const pace = createPace();
      for (const { line, number: at } of waiting) {
        if (!apply(line, at)) break;
        await pace.rest();
      }
      return report;
    },
  };
}

/** The first fault in a long list; the schema alone would find and keep one for each of thousands, in a second. */
function listProblem(value: unknown): string | null {
  const lists = (value ?? {}) as { readonly readings?: unknown; readonly buckets?: unknown };
  for (const name of ['readings', 'buckets'] as const) {
    const list = lists[name];
    if (!Array.isArray(list)) continue;
    if (list.length > mostInALine) return `${name}: at most ${String(mostInALine)} in a line`;
    const at = list.findIndex((one) => !tuples[name].safeParse(one).success);
    if (at !== -1) return `${name}.${String(at)}: not as the schema of a line says`;
  }
  return null;
}

function readLine(text: string): { readonly line: Line } | { readonly problem: string } {
  const json = parseJson(text);
  if (!json.ok)
    return { problem: json.why === 'nested' ? `This line: ${nestedTooDeep}.` : 'This line is not JSON.' };
  const inList = listProblem(json.value);
  if (inList !== null) return { problem: inList };
  const parsed = lineSchema.safeParse(json.value);
  if (parsed.success) return { line: parsed.data };
  const issue = parsed.error.issues[0];
  return { problem: `${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'not valid'}`.replace(/^: /, '') };
}
