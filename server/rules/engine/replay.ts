/**
 * What the rules would have raised over a span of history, with any rule set and any limits, and how that
 * compares with what was raised. The same inputs give the same answer.
 */
import type { Effect } from './alert-state.ts';
import { runHistory, type History, type HistoryResult } from './history.ts';
import type { Subject, Urgency } from './types.ts';

/** One alert, from raised to cleared; null while it stood at the end of the span. */
export interface Raising {
  readonly ruleId: string;
  readonly subject: Subject;
  readonly urgency: Urgency;
  readonly raisedAtMs: number;
  readonly endedAtMs: number | null;
}

export interface Replayed extends HistoryResult {
  readonly raisings: readonly Raising[];
}

export function replay(history: History): Replayed {
  const result = runHistory(history);
  return { ...result, raisings: raisingsOf(result.effects) };
}

/** Pairs each raising with its end. */
export function raisingsOf(effects: readonly Effect[]): Raising[] {
  const found = new Map<string, Raising>();
  for (const { kind, atMs, ruleId, subject, episode } of effects) {
    if (kind === 'raised') {
      const { urgency } = episode;
      found.set(episode.id, { ruleId, subject, urgency, raisedAtMs: atMs, endedAtMs: null });
    }
    const raising = found.get(episode.id);
    if (!raising) continue;
    if (kind === 'cleared' || kind === 'no-longer-applies' || kind === 'closed') {
      found.set(episode.id, { ...raising, endedAtMs: raising.endedAtMs ?? atMs });
    } else if (kind === 'worsened') found.set(episode.id, { ...raising, urgency: episode.urgency });
  }
  return [...found.values()];
}

export interface Comparison {
  readonly both: readonly { readonly replayed: Raising; readonly real: Raising; readonly laterMs: number }[];
  readonly onlyReplayed: readonly Raising[];
  readonly onlyReal: readonly Raising[];
}

/** Matches raisings of the same rule and subject whose spans touch, within `slackMs`; each is matched once. */
export function compareRaisings(
  replayed: readonly Raising[],
  real: readonly Raising[],
  slackMs: number,
): Comparison {
  const left = new Set(real);
  const both: Comparison['both'][number][] = [];
  const onlyReplayed: Raising[] = [];
  for (const one of replayed) {
    const match = [...left].find((other) => sameFinding(one, other) && touch(one, other, slackMs));
    if (!match) {
      onlyReplayed.push(one);
      continue;
    }
    left.delete(match);
    both.push({ replayed: one, real: match, laterMs: one.raisedAtMs - match.raisedAtMs });
  }
  return { both, onlyReplayed, onlyReal: [...left] };
}

const sameFinding = (a: Raising, b: Raising): boolean =>
  a.ruleId === b.ruleId && a.subject.kind === b.subject.kind && a.subject.id === b.subject.id;

const touch = (a: Raising, b: Raising, slackMs: number): boolean =>
  a.raisedAtMs <= (b.endedAtMs ?? Infinity) + slackMs && b.raisedAtMs <= (a.endedAtMs ?? Infinity) + slackMs;
