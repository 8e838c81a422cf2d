/** What the field log explains to the signals: visits, feeds, the split and the move. */
import type { EffectiveFact } from '../introduction/log/effective-facts.ts';
import type { FactKind } from '../introduction/log/facts.ts';
import type { HiveVisit } from '../store/field-log/hive-visits.ts';
import type { KnownEvent } from '../signals/types.ts';

/** Facts that are written at a desk, or on the way to the nuc. */
const notAtTheHive: ReadonlySet<FactKind> = new Set(['queen-arrived', 'gate-overridden', 'outcome', 'note']);

function kindOf(kind: FactKind): KnownEvent['kind'] {
  if (kind === 'split-made') return 'split';
  if (kind === 'moved') return 'moved';
  return kind === 'fed' ? 'fed' : 'visit';
}

export const knownEvents = (facts: readonly EffectiveFact[]): KnownEvent[] =>
  facts
    .filter(({ fact }) => !notAtTheHive.has(fact.kind))
    .map(({ atMs, fact }) => ({ atMs, kind: kindOf(fact.kind) }));

/** Visits outside an introduction explain as much. */
export const visitEvents = (visits: readonly HiveVisit[], nowMs: number): KnownEvent[] =>
  visits
    .filter(({ withdrawnAtMs, happenedAtMs }) => withdrawnAtMs === undefined && happenedAtMs <= nowMs)
    .map(({ happenedAtMs, kind }) => ({
      atMs: happenedAtMs,
      kind: kind === 'fed' || kind === 'moved' ? kind : 'visit',
    }));

/** When the split stood on its own stand: the move, or the split where no move was logged. */
export function movedAtMs(facts: readonly EffectiveFact[]): number | undefined {
  const moved =
    facts.find(({ fact }) => fact.kind === 'moved') ?? facts.find(({ fact }) => fact.kind === 'split-made');
  return moved?.atMs;
}
