/** How a replay goes from tick to tick: those in whose look nothing can differ from the one before need no look of their own. */
import { type Evaluated, type Looked } from './evaluate.ts';
import type { RuleInput } from './inputs.ts';
import type { LimitSettings } from './limits.ts';
import { flickerMs, holdingRules, nextHoldEndMs } from './next-hold-end.ts';
import { otherwise, type Others, type PastWatch } from './past-watch.ts';
import { explainedBy } from './suppression.ts';
import { boundsOf, turnsMs } from './turns.ts';

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
  /**
   * The only rules to which what moved between two instants tells something, where readings are not at rest: asked there alone,
   * and if they say the same the leap goes on. Undefined where it may be any; so, too, where absent.
   */
  readonly toldBy?: (fromMs: number, toMs: number) => ReadonlySet<string> | undefined;
  /** Rules to which it tells something whether it is calm: asked so often, ms, while the others are asked alone. */
  readonly toldByCalm?: { readonly ruleIds: ReadonlySet<string>; readonly everyMs: number };
  /** When something new is read next after `nowMs`: as often is looked where readings move while a hold is running, which a flicker ends. */
  readonly nextReadMs: (nowMs: number) => number;
  /** Instants that are looked at whatever happens, ms, rising: something was logged. */
  readonly stopsMs: readonly number[];
  /** Instants at which these rules are asked, whatever happens, ms: what moved before may only now be told. */
  readonly asked?: readonly { readonly atMs: number; readonly ruleIds: ReadonlySet<string> }[];
  /** What is known to turn at this tick and at none before it, which is a stop: only what else turned is searched for. */
  readonly turnsAt?: (atMs: number, looked: Looked) => boolean;
}

export interface LeapSpan {
  readonly tickMs: number;
  readonly lastMs: number;
  readonly limits: LimitSettings | undefined;
}

/** Where something was seen to have become another. */
interface Turn {
  /** The first tick that finds it, as far as glances tell. */
  readonly atMs: number;
  /** The tick that was looked at, and found it. */
  readonly seenAtMs: number;
  /** The rules that glances were asked for; none where all rules looked. */
  readonly ruleIds: ReadonlySet<string>;
}

export class Leaper {
  readonly #watch: PastWatch;
  readonly #by: Leaps;
  readonly #tickMs: number;
  readonly #lastMs: number;
  readonly #limits: LimitSettings | undefined;
  /** Ticks at which the calendar may begin or end something, and those before them, as they were foreseen so far. */
  readonly #bounds = new Set<number>();
  /** Such ticks at which only these rules can turn. */
  readonly #boundsOfRules = new Map<number, Set<string>>();
  #turn: Turn | undefined;
  /** Up to there glances were wrong: what else was found at the same instant counts. */
  #misledUntilMs = -Infinity;

  constructor(watch: PastWatch, by: Leaps, { tickMs, lastMs, limits }: LeapSpan) {
    this.#watch = watch;
    this.#by = by;
    this.#tickMs = tickMs;
    this.#lastMs = lastMs;
    this.#limits = limits;
    for (const { atMs, ruleIds } of by.asked ?? []) this.#ask(this.#tickFrom(atMs), ruleIds);
  }

  /** Takes the tick after `nowMs` up to which every look finds what the look at `nowMs` found, and tells it. */
  leap(nowMs: number): number {
    const before = this.#watch.found as Evaluated;
    const endMs = this.#endMs(nowMs, before);
    let targetMs = this.#turn
      ? Math.min(endMs, this.#beforeOrAt(this.#turn.atMs, nowMs))
      : (this.#watch.lastLookedMs(endMs) ?? endMs);
    for (;;) {
      targetMs = this.#boundThatTurnsMs(nowMs, targetMs, before);
      targetMs = this.#restUntil(nowMs, targetMs, before);
      if (this.#turn && targetMs === this.#turn.atMs - this.#tickMs && this.#turn.atMs <= endMs) {
        const taken = this.#takeTurn(this.#turn, before);
        if (taken !== undefined) return taken;
      }
      const evaluated = this.#watch.lookAt(targetMs);
      const others = this.#others(before, evaluated, targetMs);
      if (isNone(others) || targetMs - nowMs <= this.#tickMs) {
        this.#passTurn(targetMs, isNone(others));
        return this.#watch.take(evaluated, targetMs);
      }
      this.#turn = this.#firstTurn(nowMs, targetMs, before, others);
      targetMs = this.#beforeOrAt(this.#turn.atMs, nowMs);
    }
  }

  #others(before: Evaluated, evaluated: Evaluated, atMs: number): Others {
    return otherwise(before, evaluated, (one) => this.#by.turnsAt?.(atMs, one) ?? false);
  }

  /**
   * Goes to a turn without a look at the tick before it, where only those rules turned that said there, asked alone, what
   * they had said before.
   */
  #takeTurn({ atMs, ruleIds }: Turn, before: Evaluated): number | undefined {
    const evaluated = this.#watch.lookAt(atMs);
    const others = this.#others(before, evaluated, atMs);
    if (others === 'other-subjects' || ![...others].every((id) => ruleIds.has(id))) return undefined;
    // Whatever these explain may have been told until then, and nothing is to be seen of it any more.
    const hidden = explainedBy(ruleIds);
    if (!this.#saysTheSame(before, atMs - this.#tickMs, new Set([...ruleIds, ...hidden]))) return undefined;
    this.#passTurn(atMs, others.size === 0);
    return this.#watch.take(evaluated, atMs);
  }

  /** The tick at which something makes a look due. */
  #endMs(nowMs: number, before: Evaluated): number {
    const reachMs = nowMs + this.#by.longestInCalmMs;
    const stopMs = this.#by.stopsMs.find((atMs) => atMs > nowMs) ?? Infinity;
    const endMs = Math.min(
      ...[reachMs, stopMs, this.#boundMs(nowMs), nextHoldEndMs(before, nowMs), this.#lastMs],
    );
    return Math.max(nowMs + this.#tickMs, Math.min(this.#tickFrom(endMs), this.#lastMs));
  }

  readonly #tickFrom = (atMs: number): number => Math.ceil(atMs / this.#tickMs) * this.#tickMs;

  /** The tick before a turn is looked at first: there, all else has to be as it was. */
  readonly #beforeOrAt = (turnMs: number, nowMs: number): number =>
    turnMs - this.#tickMs > nowMs ? turnMs - this.#tickMs : turnMs;

  #passTurn(atMs: number, same: boolean): void {
    if (!this.#turn || atMs < this.#turn.atMs) return;
    // Nothing turned here, though something did up to where it was seen.
    if (same && atMs < this.#turn.seenAtMs) this.#misledUntilMs = this.#turn.seenAtMs;
    this.#turn = undefined;
  }

  /** The first tick after `nowMs` at which what is other at `laterMs` is so, if it turns but once. */
  #firstTurn(nowMs: number, laterMs: number, before: Evaluated, others: Others): Turn {
    const ruleIds = others === 'other-subjects' || laterMs <= this.#misledUntilMs ? noRules : others;
    const isSame = (atMs: number): boolean =>
      ruleIds === noRules
        ? isNone(otherwise(before, this.#watch.lookAt(atMs)))
        : this.#saysTheSame(before, atMs, ruleIds);
    let sameMs = nowMs;
    let otherMs = laterMs;
    // What was logged, and the calendar, turn things at their own ticks.
    const isNamed = this.#isStop(laterMs) || this.#boundsOfRules.has(laterMs);
    if (isNamed && isSame(laterMs - this.#tickMs)) sameMs = laterMs - this.#tickMs;
    while (otherMs - sameMs > this.#tickMs) {
      const middleMs = this.#halfway(sameMs, otherMs);
      if (isSame(middleMs)) sameMs = middleMs;
      else otherMs = middleMs;
    }
    return { atMs: otherMs, seenAtMs: laterMs, ruleIds };
  }

  #saysTheSame(before: Evaluated, atMs: number, ruleIds: ReadonlySet<string>): boolean {
    return isNone(otherwise(only(before, ruleIds), this.#watch.glanceAt(atMs, ruleIds)));
  }

  #isStop(tickMs: number): boolean {
    return this.#by.stopsMs.some((atMs) => this.#tickFrom(atMs) === tickMs);
  }

  /** About the middle; where something turns by the calendar in between, the tick before it and its own are tried before. */
  #halfway(nowMs: number, laterMs: number): number {
    const middleMs = (nowMs + laterMs) / 2;
    const near = (a: number, b: number): number => Math.abs(a - middleMs) - Math.abs(b - middleMs);
    const [turnMs] = turnsMs(this.#watch.seen, this.#limits)
      .map(this.#tickFrom)
      .filter((atMs) => atMs > nowMs && atMs < laterMs)
      .sort(near);
    if (turnMs !== undefined) return Math.max(turnMs - this.#tickMs, nowMs + this.#tickMs);
    return nowMs + Math.max(1, Math.floor((laterMs - nowMs) / (2 * this.#tickMs))) * this.#tickMs;
  }

  #boundMs(nowMs: number): number {
    this.#foresee(this.#watch.seen);
    for (const atMs of this.#bounds) if (atMs <= nowMs) this.#bounds.delete(atMs);
    for (const atMs of this.#boundsOfRules.keys()) if (atMs <= nowMs) this.#boundsOfRules.delete(atMs);
    return Math.min(...this.#bounds);
  }

  #foresee(seen: readonly RuleInput[]): void {
    for (const { atMs, ruleIds, begunByReadings } of boundsOf(seen, this.#limits)) {
      const tick = this.#tickFrom(atMs);
      if (ruleIds) this.#ask(tick, ruleIds);
      else this.#bounds.add(tick - this.#tickMs).add(tick);
      if (begunByReadings) this.#ask(tick - this.#tickMs, begunByReadings);
    }
  }

  #ask(tick: number, ruleIds: ReadonlySet<string>): void {
    const known = this.#boundsOfRules.get(tick);
    if (!known) this.#boundsOfRules.set(tick, new Set(ruleIds));
    else for (const id of ruleIds) known.add(id);
  }

  /** The first bound of some rules up to `targetMs` at which they say something else than before; else `targetMs`. */
  #boundThatTurnsMs(nowMs: number, targetMs: number, before: Evaluated): number {
    for (let atMs = nowMs; ;) {
      atMs = Math.min(...[...this.#boundsOfRules.keys()].filter((boundMs) => boundMs > atMs));
      if (atMs >= targetMs) return targetMs;
      if (!this.#saysTheSame(before, atMs, this.#boundsOfRules.get(atMs) ?? noRules)) return atMs;
      // A step that is past moves on to another day.
      this.#foresee(this.#watch.inputsAt(atMs));
    }
  }

  /**
   * How far looks may be left out, at most up to `targetMs`: as long as readings are at rest, and beyond that where the rules
   * to which they tell something say the same.
   */
  #restUntil(nowMs: number, targetMs: number, before: Evaluated): number {
    const { isCalm, toldBy, toldByCalm } = this.#by;
    const holding = holdingRules(before);
    const flicker = flickerMs(before);
    let askedMs = nowMs;
    let calm = isCalm(this.#watch.seen);
    for (let wayMs = nowMs; ;) {
      const restMs = this.#stretchFrom(wayMs, targetMs, flicker, calm);
      const told = toldBy?.(wayMs, restMs + this.#tickMs);
      if (restMs >= targetMs || !told) return restMs;
      const isOld = restMs - askedMs >= (toldByCalm?.everyMs ?? 0);
      const ruleIds = new Set([...told, ...holding, ...((isOld && toldByCalm?.ruleIds) || noRules)]);
      if (!this.#saysTheSame(before, restMs, ruleIds)) return restMs;
      if (isOld) {
        askedMs = restMs;
        calm = isCalm(this.#watch.inputsAt(restMs));
      }
      wayMs = restMs;
    }
  }

  /** How far readings are at rest, in a stretch that the weather and the holds that are running allow. */
  #stretchFrom(fromMs: number, targetMs: number, flicker: number, calm: boolean): number {
    const by = this.#by;
    const inHold = flicker < Infinity;
    // While a hold is running that a flicker would end, every reading counts that is not at rest.
    const closelyMs = Math.max(Math.min(by.nextReadMs(fromMs), fromMs + by.shortestMs), fromMs + flicker);
    const unaskedMs = Math.min(inHold ? closelyMs : Infinity, fromMs + by.shortestMs);
    const uneasyMs = this.#tickUpTo(inHold ? closelyMs : fromMs + by.longestMs, fromMs);
    if (!calm) return this.#atRestUntil(fromMs, Math.min(targetMs, uneasyMs), unaskedMs, false);
    const restMs = this.#atRestUntil(fromMs, targetMs, unaskedMs, true);
    return restMs <= uneasyMs || by.isCalm(this.#watch.inputsAt(restMs))
      ? restMs
      : this.#atRestUntil(fromMs, uneasyMs, unaskedMs, false);
  }

  readonly #tickUpTo = (atMs: number, nowMs: number): number =>
    Math.max(nowMs + this.#tickMs, Math.floor(atMs / this.#tickMs) * this.#tickMs);

  /** How far the readings are at rest, or `unaskedMs` where that is further; at most `targetMs`. */
  #atRestUntil(fromMs: number, targetMs: number, unaskedMs: number, calm: boolean): number {
    const rests = (atMs: number): boolean => atMs <= unaskedMs || this.#by.atRest(fromMs, atMs, calm);
    let restMs = targetMs;
    let movedMs = targetMs;
    while (restMs - fromMs > this.#tickMs && !rests(restMs)) {
      movedMs = restMs;
      restMs = this.#halfway(fromMs, restMs);
    }
    // Looking at readings costs far less than a look of the rules.
    while (movedMs - restMs > this.#tickMs) {
      const middleMs = restMs + Math.floor((movedMs - restMs) / (2 * this.#tickMs)) * this.#tickMs;
      if (rests(middleMs)) restMs = middleMs;
      else movedMs = middleMs;
    }
    return restMs;
  }
}

const noRules: ReadonlySet<string> = new Set();

const isNone = (others: Others): boolean => others !== 'other-subjects' && others.size === 0;

/** What these rules found. */
const only = (evaluated: Evaluated, ruleIds: ReadonlySet<string>): Evaluated => ({
  ...evaluated,
  evaluations: evaluated.evaluations.filter(({ ruleId }) => ruleIds.has(ruleId)),
});
