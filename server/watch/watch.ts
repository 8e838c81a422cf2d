/**
 * Keeps watch: re-reads a nuc soon after its readings come in, runs every rule once a minute, and passes on what
 * happened to alerts. All timing decisions are made from the instant that is passed in.
 */
import { rules } from '../rules/catalogue/registry.ts';
import { nucOf, nucsOf } from '../rules/engine/suppression.ts';
import type { Act, AlertState, Effect } from '../rules/engine/alert-state.ts';
import {
  actOnAlert,
  evaluateAll,
  type Evaluated,
  type RuleEvaluation,
  type Suppressed,
} from '../rules/engine/evaluate.ts';
import type { ChannelHealth, RuleInput, ServerInput } from '../rules/engine/inputs.ts';
import type { LimitSettings } from '../rules/engine/limits.ts';
import { allAfterOutage, unobservedBetween } from '../rules/engine/outage.ts';
import type { CommitResult } from '../store/port.ts';
import type { Channel } from '../store/channels/channels.ts';
import type { Owner } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Store } from '../store/store.ts';
import type { Where } from '../farm/sensor-positions.ts';
import { AlertBook } from './alert-book.ts';
import { catchUp, lateMs, lookBack, type LookedBack } from './catch-up.ts';
import { FarmState, type FarmStateDeps } from './farm-state.ts';
import { LateReadings } from './late-readings.ts';
import type { NucAnalysis } from './nuc-analysis.ts';
import { serverInput } from './rule-inputs.ts';

export const tickMs = 60_000;
/** A nuc whose sensors report every second is still read only so often. */
const leastBetweenMs = 2_000;
/** Longest stretch of work at once, so that readings and pages are served in between. */
const workMs = 120;
/** What ended longer ago explains nothing any more. */
const endedKeepMs = 14 * 86_400_000;
const pressing: ReadonlySet<string> = new Set(
  rules.filter(({ urgency }) => urgency === 'now').map(({ id }) => id),
);
const lastTickMark = 'rules last ran';

export interface WatchDeps extends FarmStateDeps {
  readonly startedAtMs: number;
  readonly limits: () => LimitSettings;
  /** How closely rules are evaluated again over late readings, ms. */
  readonly historyStepMs: () => number;
  readonly server: (nowMs: number) => Pick<ServerInput, 'brokerAwaySinceMs' | 'disk'>;
  readonly timeZone: () => string;
  /** Called before the new states are stored. */
  readonly onEffects: (effects: readonly Effect[], nowMs: number) => void;
  /** These nucs were worked out anew. */
  readonly onNucs: (nucIds: readonly string[]) => void;
  /** Milliseconds of a steady clock, for the budget of work. */
  readonly steadyMs: () => number;
}

export class Watch {
  readonly book: AlertBook;
  readonly #deps: WatchDeps;
  readonly #farm: FarmState;
  /** The last evaluation behind each alert, by its key: of what no alert is about hardly anybody asks. */
  readonly #evaluations = new Map<string, RuleEvaluation>();
  readonly #late: LateReadings;
  /** Nucs with readings that are not analysed yet. */
  readonly #waiting = new Set<string>();
  readonly #down: { readonly fromMs: number; readonly toMs: number } | null;
  #suppressed: readonly Suppressed[] = [];
  #lastRun: { readonly atMs: number; readonly ms: number } | null = null;

  constructor(deps: WatchDeps) {
    this.#deps = deps;
    this.book = new AlertBook(deps.store);
    this.#farm = new FarmState(deps);
    this.#late = new LateReadings({
      begin: (nucId, fromMs, nowMs) => this.#evaluatePast(nucId, fromMs, nowMs),
      isPressing: (nucId) =>
        [...this.book.alerts.values()].some(
          ({ at, ruleId, subject }) =>
            at.phase === 'holding' && pressing.has(ruleId) && nucOf(subject) === nucId,
        ),
      done: (nucId, result, nowMs) => {
        this.#takePast(nucId, result, nowMs);
      },
    });
    const lastTick = deps.store.marks.get(lastTickMark) ?? null;
    const unobservedMs = unobservedBetween(lastTick, deps.startedAtMs, tickMs);
    this.#down = unobservedMs > 0 && lastTick !== null ? { fromMs: lastTick, toMs: deps.startedAtMs } : null;
    // Once, and before anything is evaluated: a nuc may be several times before the first tick.
    const { alerts, changed } = allAfterOutage(this.book.alerts, unobservedMs);
    this.book.take(alerts, changed, [], deps.startedAtMs);
  }

  /** The last evaluation of everything: when, and how long it took. */
  get lastRun(): { readonly atMs: number; readonly ms: number } | null {
    return this.#lastRun;
  }

  /** More may be found by itself: not everything was evaluated since the start, or late readings are not. */
  get isLooking(): boolean {
    return this.#lastRun === null || this.isCatchingUp;
  }

  /** Late readings are being evaluated. */
  get isCatchingUp(): boolean {
    return this.#late.pending;
  }

  where(nowMs: number): Where {
    return this.#farm.positions(nowMs);
  }

  analysis(nucId: string, nowMs: number): NucAnalysis | undefined {
    return this.#farm.analysis(nucId, nowMs);
  }

  analysisAtEnd(nucId: string, endMs: number): NucAnalysis | undefined {
    return this.#farm.analysisAtEnd(nucId, endMs);
  }

  healthOf(channel: Channel, place: ChannelHealth['place'], nowMs: number): ChannelHealth {
    return this.#farm.health(channel, place, nowMs);
  }

  readingsCame({ stored }: CommitResult, nowMs: number): void {
    this.#farm.readingsCame(stored, nowMs);
    const { ofChannel, nucsOfSite } = this.where(nowMs);
    for (const { channelId, observedAtMs } of stored) {
      const at = ofChannel.get(channelId);
      if (!at) continue;
      if (at.hive) this.#waiting.add(at.hive.id);
      const touched = at.hive ? [at.hive] : (nucsOfSite.get(at.site.id) ?? []);
      for (const { id } of touched) {
        this.#farm.nucReadingsCame(id, observedAtMs);
        if (observedAtMs < nowMs - lateMs) this.#late.note(id, observedAtMs, nowMs);
      }
    }
  }

  logChanged(nucId: string): void {
    this.#farm.logChanged(nucId);
  }

  /** An export was taken in: its alerts go on as they stood. Its past was evaluated where it comes from. */
  imported(): void {
    this.book.takeImported();
    this.#farm.setupChanged();
  }

  /** At these places; anywhere, where none is named. */
  setupChanged(nowMs: number, places?: readonly Owner[]): void {
    this.#farm.setupChanged();
    const { nucs } = this.where(nowMs);
    const standing = new Set(nucs.map(({ id }) => id));
    this.#late.keepOnly(standing);
    for (const id of this.#waiting) if (!standing.has(id)) this.#waiting.delete(id);
    // A sensor that was just told where it stands brings its history with it.
    for (const nuc of nucs) if (!places || places.some(holds(nuc))) this.#late.startOver(nuc.id, nowMs);
  }

  /** Nucs with new readings, as far as the budget allows; true where work is left. */
  work(nowMs: number): boolean {
    const { steadyMs } = this.#deps;
    const began = steadyMs();
    const done: string[] = [];
    for (const id of [...this.#waiting]) {
      const { signalsAtMs } = this.#farm.nuc(id);
      if (nowMs - signalsAtMs < leastBetweenMs && nowMs >= signalsAtMs) continue;
      this.#waiting.delete(id);
      done.push(id);
      this.#farm.analysis(id, nowMs, true);
      if (steadyMs() - began > workMs) break;
    }
    // Where late readings are coming in, what is found now began earlier: the past says when.
    const prompt = done.filter((id) => !this.#late.concerns(id));
    if (prompt.length > 0) this.#evaluateNucs(prompt, nowMs);
    this.#late.work(nowMs, () => steadyMs() - began < workMs);
    return this.#waiting.size > 0 || this.#late.pending;
  }

  /** Rules about one nuc, at once: something was logged. */
  evaluateNuc(nucId: string, nowMs: number): void {
    this.#evaluateNucs([nucId], nowMs);
  }

  /** Every rule about everything. */
  tick(nowMs: number): void {
    const { steadyMs, store } = this.#deps;
    const began = steadyMs();
    this.#farm.forgetPositions();
    this.#suppressed = this.#run(this.#allInputs(nowMs), nowMs, true).suppressed;
    this.#lastRun = { atMs: nowMs, ms: Math.round(steadyMs() - began) };
    noteTick(store, nowMs);
  }

  act(id: string, act: Act): AlertState | undefined {
    const alert = this.book.find(id);
    if (!alert) return undefined;
    const acted = actOnAlert(this.book.alerts, alert.key, act);
    const after = acted?.alerts.get(alert.key);
    if (!acted || !after) return undefined;
    this.#deps.onEffects(acted.effects, act.nowMs);
    this.book.take(acted.alerts, [after], acted.effects, act.nowMs);
    return after;
  }

  /** What every rule finds now about a nuc and the sensors in and under it; no alert takes a step. */
  evaluations(nucId: string, nowMs: number): readonly RuleEvaluation[] {
    const ofNuc = ({ subject }: Pick<RuleEvaluation, 'subject'>): boolean => nucsOf(subject).includes(nucId);
    // Its site and the server may explain what it shows.
    const inputs = this.#allInputs(nowMs).filter(
      (input) => input.on === 'site' || input.on === 'server' || ofNuc(input),
    );
    const options = { limits: this.#deps.limits() };
    return evaluateAll(inputs, this.book.alerts, nowMs, options).evaluations.filter(ofNuc);
  }

  /** The last evaluation behind each alert, by its key. */
  latestEvaluations(): ReadonlyMap<string, RuleEvaluation> {
    return this.#evaluations;
  }

  /** What other findings explained at the last full tick. */
  suppressed(): readonly Suppressed[] {
    return this.#suppressed;
  }

  #run(inputs: readonly RuleInput[], nowMs: number, everything = false): Evaluated {
    const { limits, onEffects } = this.#deps;
    const options = { limits: limits(), everything, alertsOnly: true };
    const evaluated = evaluateAll(inputs, this.book.alerts, nowMs, options);
    onEffects(evaluated.effects, nowMs);
    this.book.take(evaluated.alerts, evaluated.changed, evaluated.effects, nowMs);
    if (everything) this.#evaluations.clear();
    for (const one of evaluated.evaluations) {
      if (evaluated.alerts.has(one.key)) this.#evaluations.set(one.key, one);
      else this.#evaluations.delete(one.key);
    }
    return evaluated;
  }

  #allInputs(nowMs: number): RuleInput[] {
    const { startedAtMs, timeZone, server } = this.#deps;
    const ofServer = { nowMs, timeZone: timeZone(), startedAtMs, down: this.#down, ...server(nowMs) };
    return [...this.#farm.allInputs(nowMs), serverInput(ofServer)];
  }

  #evaluateNucs(nucIds: readonly string[], nowMs: number): void {
    const inputs = nucIds.flatMap((id) => this.#farm.nucInputs(id, nowMs));
    if (inputs.length > 0) this.#run(inputs, nowMs);
    this.#deps.onNucs(nucIds);
  }

  #evaluatePast(nucId: string, fromMs: number, nowMs: number): Generator<undefined, LookedBack> {
    const analysis = this.analysis(nucId, nowMs);
    return lookBack({
      nucId,
      fromMs,
      nowMs,
      book: this.book.alerts,
      openedAtMs: analysis && beganMs(analysis),
      ended: this.book.endedOf(nucId, nowMs - endedKeepMs),
      inputsAt: this.#farm.pastNucInputs(nucId, nowMs),
      loggedMs: (analysis?.log ?? []).map(({ happenedAtMs }) => happenedAtMs),
      stepMs: this.#deps.historyStepMs(),
      limits: this.#deps.limits(),
    });
  }

  #takePast(nucId: string, result: LookedBack, nowMs: number): void {
    const ended = this.book.endedOf(nucId, nowMs - endedKeepMs);
    const caught = catchUp(this.book.alerts, nucId, result, ended);
    this.#deps.onEffects(caught.news, nowMs);
    this.book.take(caught.alerts, caught.changed, [...caught.news, ...caught.over], nowMs);
    // What was told is as it was when the finding was raised; a page shows how it is now.
    this.#evaluateNucs([nucId], nowMs);
  }
}

const holds =
  ({ id, siteId }: Hive) =>
  (place: Owner): boolean =>
    'hiveId' in place ? place.hiveId === id : place.siteId === siteId;

/** Best effort: a full disk must not stop the rules that tell about it. */
function noteTick(store: Store, nowMs: number): void {
  try {
    store.marks.set(lastTickMark, nowMs);
  } catch {
    // The next tick tries again; meanwhile the store's own state tells what is wrong.
  }
}

/** An introduction entered after the fact begins with what was seen first. */
const beganMs = ({ setup, state }: NucAnalysis): number | undefined =>
  setup ? Math.min(setup.openedAtMs, state?.facts[0]?.atMs ?? Infinity) : undefined;
