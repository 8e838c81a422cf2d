/** The field log: entries come in, are checked, stored, and the nuc is evaluated anew. */
import type { ResponseOf } from '../../contract/index.ts';
import { present } from '../../farm/wire.ts';
import type { LogEntry } from '../../introduction/log/facts.ts';
import type { Actor } from '../../views/views.ts';
import { keeperAtTheMachine } from '../access/access.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';

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
