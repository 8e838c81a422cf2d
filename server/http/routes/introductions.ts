/** Opening an introduction in a nuc, and the field log. */
import type { LogEntry } from '../../introduction/facts.ts';
import type { Introduction } from '../../store/introductions.ts';
import { keeperAtTheMachine } from '../access/access.ts';
import { newId } from '../../farm/secrets.ts';
import type { ResponseOf } from '../../contract/index.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound } from '../../user-error.ts';
import type { Actor } from '../../views/views.ts';
import { iso, msOf, present } from '../../farm/wire.ts';

function toWire(one: Introduction): ResponseOf<'openIntroduction'> {
  const planned = one.setup['plannedSplit'];
  return present({
    id: one.id,
    nucId: one.nucId,
    startingPoint: one.startingPoint,
    method: one.method,
    queenId: one.queenId,
    plannedSplit: typeof planned === 'string' ? planned : undefined,
    arrivalId: one.arrivalId,
    openedAt: iso(one.openedAtMs),
    closedAt: one.closedAtMs === undefined ? undefined : iso(one.closedAtMs),
  });
}

/** Introductions whose story an entry changes: its own, and the one that it moves a fact to. */
const touched = (entry: LogEntry): string[] =>
  entry.type === 'correction' && entry.moveTo !== undefined
    ? [entry.introductionId, entry.moveTo]
    : [entry.introductionId];

type Posted = ResponseOf<'postLog'>['items'][number];

/**
 * Holds each new entry against the log as it would stand with those before it, and stores those that pass in one
 * transaction. An entry that is there already is not checked again: it was right when it was written.
 */
function takeIn({ store, checkEntry }: AppDeps, entries: readonly LogEntry[], nowMs: number): Posted[] {
  const { introductions } = store;
  const accepted: LogEntry[] = [];
  const refused = new Map<LogEntry, Posted>();
  for (const entry of entries) {
    const introduction = introductions.get(entry.introductionId);
    const isNew = introductions.entry(entry.id) === undefined && !accepted.some((one) => one.id === entry.id);
    const logSoFar = (): LogEntry[] => [
      ...introductions.log(entry.introductionId),
      ...accepted.filter((one) => touched(one).includes(entry.introductionId)),
    ];
    const problems =
      introduction && isNew ? (checkEntry?.(entry, introduction, logSoFar(), nowMs) ?? []) : [];
    if (problems.length === 0) accepted.push(entry);
    else refused.set(entry, { id: entry.id, result: 'refused', problems: [...problems] });
  }
  const written = introductions.append(accepted);
  const byEntry = new Map(accepted.map((entry, i) => [entry, written[i]]));
  return entries.flatMap((entry) => {
    const item = refused.get(entry) ?? byEntry.get(entry);
    return item ? [{ ...item, problems: [...item.problems] }] : [];
  });
}

/**
 * As it is kept: `by` is who sends it, and another name that it came with says for whom. One that is there already is
 * held against what was written down then. Before anybody signs in nobody is known, and the entry says what it says.
 */
function withWriter({ store }: AppDeps, entry: LogEntry, actor: Actor): LogEntry {
  const before = store.introductions.entry(entry.id);
  const { by: said, onBehalfOf = said, ...rest } = entry;
  if (before) return present({ ...rest, by: before.by, onBehalfOf: before.onBehalfOf });
  if (actor === keeperAtTheMachine) return entry;
  return present({ ...rest, by: actor.name, onBehalfOf: onBehalfOf === actor.name ? undefined : onBehalfOf });
}

export function logRoutes(deps: AppDeps) {
  const { store, views, events } = deps;
  return implement('postLog', async ({ body, actor, nowMs }) => {
    const entries = body.entries.map((entry) => withWriter(deps, entry, actor));
    const items = takeIn(deps, entries, nowMs);
    const stored = new Set(items.filter((item) => item.result === 'stored').map((item) => item.id));
    const changed = new Set(entries.filter((entry) => stored.has(entry.id)).flatMap(touched));
    for (const id of changed) {
      await views.afterLog(id, nowMs);
      const nucId = store.introductions.get(id)?.nucId;
      if (nucId !== undefined) events.publish({ type: 'nuc', id: nucId, logged: true });
    }
    return { items };
  });
}

/** Of one that is entered while it is under way: a year back at most, and never within the one before it. */
const longestUnderWayMs = 366 * 86_400_000;
const clockSlackMs = 5 * 60_000;

function refuseBeginning(
  nuc: string,
  openedAtMs: number,
  before: Introduction | undefined,
  nowMs: number,
): void {
  if (openedAtMs > nowMs + clockSlackMs) {
    throw new UserError(
      'invalid-input',
      `The beginning in ${nuc} lies in the future: leave it out, or correct it.`,
    );
  }
  if (openedAtMs < nowMs - longestUnderWayMs) {
    throw new UserError('invalid-input', `The beginning in ${nuc} lies more than a year back: correct it.`);
  }
  if (before?.closedAtMs !== undefined && openedAtMs < before.closedAtMs) {
    throw new UserError(
      'conflict',
      `The introduction before in ${nuc} ended at ${iso(before.closedAtMs)}: this one can’t have begun before that.`,
    );
  }
}

export function introductionRoutes({ store, views, events }: AppDeps) {
  return {
    ...implement('openIntroduction', async ({ params, body, nowMs }) => {
      const hive = orNotFound(store.places.hive(params.id), 'nuc', params.id);
      if (hive.role !== 'nuc') {
        throw new UserError('conflict', `${hive.name} is a parent colony: a queen is introduced into a nuc.`);
      }
      const { id = newId(), startingPoint, method, queenId, plannedSplit, arrivalId, openedAt } = body;
      const [newest] = store.introductions.ofNuc(params.id);
      const openedAtMs = openedAt === undefined ? nowMs : msOf(openedAt);
      refuseBeginning(hive.name, openedAtMs, newest?.id === id ? undefined : newest, nowMs);
      if (newest && newest.id !== id && newest.closedAtMs === undefined) {
        throw new UserError(
          'conflict',
          `An introduction is under way in ${hive.name}: log how it ended, or call it off, first.`,
        );
      }
      if (arrivalId !== undefined) orNotFound(store.queens.arrival(arrivalId), 'delivery', arrivalId);
      const opened = store.introductions.open(
        present({
          id,
          nucId: params.id,
          startingPoint,
          method,
          queenId,
          arrivalId,
          setup: present({ plannedSplit }),
          openedAtMs,
        }),
      );
      await views.afterLog(opened.id, nowMs);
      events.publish({ type: 'nuc', id: params.id });
      return toWire(opened);
    }),
    ...implement('changeIntroduction', async ({ params, body, actor, nowMs }) => {
      const changed = orNotFound(
        await views.changeIntroduction(params.id, body, actor, nowMs),
        'introduction',
        params.id,
      );
      await views.afterSetupChange(nowMs);
      events.publish({ type: 'nuc', id: changed.nucId });
      return toWire(changed);
    }),
    ...implement('listIntroductions', ({ params }) => {
      orNotFound(store.places.hive(params.id), 'nuc', params.id);
      return { items: store.introductions.ofNuc(params.id).map(toWire) };
    }),
  };
}
