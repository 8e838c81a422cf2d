/**
 * What the rules would have raised over a span of history, with any rule set and any limits, and how that
 * compares with what was raised. The same inputs give the same answer.
 */
import { livePhase, type AlertState, type Effect } from './alert-state.ts';
import {
  evaluateAll,
  type Alerts,
  type Evaluated,
  type EvaluateOptions,
  type Looked,
  type LookedBefore,
} from './evaluate.ts';
import type { RuleInput } from './inputs.ts';
import { flickerMs, nextHoldEndMs } from './next-hold-end.ts';
import { boundsMs, turnsMs } from './turns.ts';
import type { Subject, Urgency } from './types.ts';

export interface ReplayPlan extends EvaluateOptions {
  readonly fromMs: number;
  readonly toMs: number;
  readonly tickMs: number;
  /** What was known at that instant, and nothing that came later; asked for instants in any order, for each once. */
  readonly inputsAt: (nowMs: number) => readonly RuleInput[];
  /** Where ticks may be left out; every tick is looked at where absent. */
  readonly leaps?: Leaps;
}

/** Ticks in whose look nothing can differ from the one before need no look of their own. */
export interface Leaps {
  /** Nothing that was seen comes and goes within hours while readings are at rest. */
  readonly isCalm: (seen: readonly RuleInput[]) => boolean;
  /** Longest stretch of readings at rest without a look, in between and beside looks that are calm; else each reading counts in a hold. */
  readonly longestMs: number;
  readonly longestInCalmMs: number;
  /** A stretch of this length is taken where its ends find the same, even where readings are not at rest; not so in a hold. */
  readonly shortestMs: number;
  /** Nothing that rules see within minutes moved between these two instants more than between the two themselves. */
  readonly atRest: (fromMs: number, toMs: number, calm: boolean) => boolean;
  /** When something new is read next after `nowMs`: as often is looked where readings move while a hold is running, which a flicker ends. */
  readonly nextReadMs: (nowMs: number) => number;
  /** Instants that are looked at whatever happens, ms, rising: something was logged. */
  readonly stopsMs: readonly number[];
  /** What is known to turn at this tick and at none before it, which is a stop: only what else turned is searched for. */
  readonly turnsAt?: (atMs: number, looked: Looked) => boolean;
}

/** One alert, from raised to cleared; null while it stood at the end of the span. */
export interface Raising {
  readonly ruleId: string;
  readonly subject: Subject;
  readonly urgency: Urgency;
  readonly raisedAtMs: number;
  readonly endedAtMs: number | null;
}

export interface Replayed {
  readonly raisings: readonly Raising[];
  readonly effects: readonly Effect[];
  readonly alerts: Alerts;
  readonly ticks: number;
}

/** Ticks at whole multiples of `tickMs`, so that two replays of overlapping spans look at the same instants. */
export function replay(plan: ReplayPlan): Replayed {
  const { fromMs, toMs, tickMs, inputsAt, leaps, ...options } = plan;
  const firstMs = Math.ceil(fromMs / tickMs) * tickMs;
  const lastMs = Math.floor(toMs / tickMs) * tickMs;
  const known = new Map<number, readonly RuleInput[]>();
  const lookedBefore: LookedBefore = new WeakMap();
  let alerts: Alerts = new Map<string, AlertState>();
  let last: Evaluated | undefined;
  let seen: readonly RuleInput[] = [];
  const effects: Effect[] = [];
  let ticks = 0;

  function lookAt(nowMs: number): Evaluated {
    let inputs = known.get(nowMs);
    if (!inputs) {
      known.set(nowMs, (inputs = inputsAt(nowMs)));
      ticks += 1;
    }
    return evaluateAll(inputs, alerts, nowMs, { ...options, lookedBefore });
  }
  function take(evaluated: Evaluated, nowMs: number): number {
    alerts = evaluated.alerts;
    effects.push(...evaluated.effects);
    last = evaluated;
    seen = known.get(nowMs) ?? [];
    for (const atMs of known.keys()) if (atMs <= nowMs) known.delete(atMs);
    return nowMs;
  }

  /** The nearest later tick that was seen to find something else. */
  let otherMs = Infinity;
  /** About the middle; where something turns by the calendar in between, the tick before it and its own are tried before. */
  function halfway(nowMs: number, laterMs: number): number {
    const middleMs = (nowMs + laterMs) / 2;
    const near = (a: number, b: number): number => Math.abs(a - middleMs) - Math.abs(b - middleMs);
    const [turnMs] = turnsMs(seen, options.limits)
      .map((atMs) => Math.ceil(atMs / tickMs) * tickMs)
      .filter((atMs) => atMs > nowMs && atMs < laterMs)
      .sort(near);
    if (turnMs !== undefined) return Math.max(turnMs - tickMs, nowMs + tickMs);
    return nowMs + Math.max(1, Math.floor((laterMs - nowMs) / (2 * tickMs))) * tickMs;
  }
  /** A tick that was looked at already, and costs nothing. */
  const lastKnown = (nowMs: number, endMs: number): number | undefined =>
    [...known.keys()].filter((atMs) => atMs > nowMs && atMs <= endMs).sort((a, b) => b - a)[0];

  /** Ticks at which the calendar may begin or end something, and those before them, as they were foreseen so far. */
  const bounds = new Set<number>();
  function boundMs(nowMs: number): number {
    for (const atMs of boundsMs(seen, options.limits)) {
      const tick = Math.ceil(atMs / tickMs) * tickMs;
      bounds.add(tick - tickMs).add(tick);
    }
    for (const atMs of bounds) if (atMs <= nowMs) bounds.delete(atMs);
    return Math.min(...bounds);
  }

  /** How far the readings are at rest, or `unaskedMs` where that is further; at most `targetMs`. */
  function restUntil(
    nowMs: number,
    targetMs: number,
    unaskedMs: number,
    isAtRest: Leaps['atRest'],
    calm: boolean,
  ) {
    const rests = (atMs: number): boolean => atMs <= unaskedMs || isAtRest(nowMs, atMs, calm);
    let restMs = targetMs;
    let movedMs = targetMs;
    while (restMs - nowMs > tickMs && !rests(restMs)) {
      movedMs = restMs;
      restMs = halfway(nowMs, restMs);
    }
    // Looking at readings costs far less than a look of the rules.
    while (movedMs - restMs > tickMs) {
      const middleMs = restMs + Math.floor((movedMs - restMs) / (2 * tickMs)) * tickMs;
      if (rests(middleMs)) restMs = middleMs;
      else movedMs = middleMs;
    }
    return restMs;
  }

  /** The tick after `nowMs` up to which every look finds what the look at `nowMs` found, taken. */
  function leap(nowMs: number, by: Leaps): number {
    const before = last as Evaluated;
    const stopMs = by.stopsMs.find((atMs) => atMs > nowMs) ?? Infinity;
    const flicker = flickerMs(before);
    const inHold = flicker < Infinity;
    // While a hold is running that a flicker would end, every reading counts that is not at rest.
    const closelyMs = Math.max(Math.min(by.nextReadMs(nowMs), nowMs + by.shortestMs), nowMs + flicker);
    const unaskedMs = Math.min(inHold ? closelyMs : Infinity, nowMs + by.shortestMs);
    const reachMs = (calm: boolean): number =>
      calm ? nowMs + by.longestInCalmMs : inHold ? closelyMs : nowMs + by.longestMs;
    let calm = by.isCalm(seen);
    const endMs = Math.min(reachMs(calm), stopMs, boundMs(nowMs), nextHoldEndMs(before, nowMs), lastMs);
    let targetMs = Math.max(nowMs + tickMs, Math.min(Math.ceil(endMs / tickMs) * tickMs, lastMs));
    targetMs =
      otherMs < Infinity
        ? Math.min(targetMs, halfway(nowMs, otherMs))
        : (lastKnown(nowMs, targetMs) ?? targetMs);
    for (;;) {
      targetMs = restUntil(nowMs, targetMs, unaskedMs, by.atRest, calm);
      const evaluated = lookAt(targetMs);
      const same = sameFindings(before, evaluated, (one) => by.turnsAt?.(targetMs, one) ?? false);
      if (same && calm && !by.isCalm(known.get(targetMs) ?? [])) {
        calm = false;
        targetMs = Math.min(targetMs, Math.max(nowMs + tickMs, Math.floor(reachMs(calm) / tickMs) * tickMs));
        continue;
      }
      if (same || targetMs - nowMs <= tickMs) {
        // Past the tick at which they turned, what was seen later may be the same again.
        if (!same || targetMs >= otherMs) otherMs = Infinity;
        return take(evaluated, targetMs);
      }
      otherMs = targetMs;
      targetMs = halfway(nowMs, targetMs);
    }
  }

  if (firstMs <= lastMs) take(lookAt(firstMs), firstMs);
  for (let nowMs = firstMs; nowMs < lastMs;) {
    nowMs = leaps ? leap(nowMs, leaps) : take(lookAt(nowMs + tickMs), nowMs + tickMs);
  }
  return { raisings: raisingsOf(effects), effects, alerts, ticks };
}

/** Every rule says the same, so that the looks in between would have moved no alert but by the passing of time. */
const sameFindings = (a: Evaluated, b: Evaluated, isKnown: (looked: Looked) => boolean): boolean =>
  a.evaluations.length === b.evaluations.length &&
  a.evaluations.every((one, i) => {
    const other = b.evaluations[i];
    if (other?.key !== one.key) return false;
    if (isKnown(other)) return true;
    if (speaks(one) !== speaks(other)) return false;
    // Where nothing goes on, it is all one why nothing is told: another finding explains it, or there is none.
    if (isAtEase(a.alerts.get(one.key))) return true;
    const [was, is] = [one.evaluation, other.evaluation];
    if ((one.quietBecause === undefined) !== (other.quietBecause === undefined)) return false;
    return was.verdict === is.verdict && was.clear === is.clear && was.urgency === is.urgency;
  });

const speaks = ({ evaluation, quietBecause }: Looked): boolean =>
  evaluation.verdict === 'yes' && quietBecause === undefined;

const isAtEase = (alert: AlertState | undefined): boolean =>
  alert === undefined || ['quiet', 'cleared'].includes(livePhase(alert).phase);

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
