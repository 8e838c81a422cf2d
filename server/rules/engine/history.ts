/**
 * The rules over a span of the past: on a fixed grid, and at the instants in between at which something is known to
 * change. Replays and late readings go by it; it steps the alerts as the watch does once a minute.
 */
import { nextChangeAtMs, type AlertState, type Effect } from './alert-state.ts';
import { evaluateAll, type Alerts, type Evaluated, type EvaluateOptions } from './evaluate.ts';
import type { NucInput, RuleInput } from './inputs.ts';
import { minuteMs } from '../../durations.ts';

export interface History extends EvaluateOptions {
  readonly fromMs: number;
  readonly toMs: number;
  /** Width of the grid, ms: whole multiples of it are evaluated after the beginning. */
  readonly stepMs: number;
  /** What was known at that instant, and nothing that came later; asked for in rising order. */
  readonly inputsAt: (nowMs: number) => readonly RuleInput[];
  /** The first instant after this one at which something was logged, sent or ended, ms; infinity where none is. */
  readonly nextEventMs?: (afterMs: number) => number;
  /** The alerts as they stood before the span. */
  readonly alerts?: Alerts;
  /** Alerts about other subjects that explain findings as of an instant. */
  readonly causesAt?: (nowMs: number) => readonly AlertState[];
}

export interface HistoryResult {
  readonly alerts: Alerts;
  readonly effects: readonly Effect[];
  /** Instants that were evaluated. */
  readonly instants: number;
}

/** Pauses after each instant, so that a server can serve others in between. */
export function* evaluateHistory(history: History): Generator<undefined, HistoryResult> {
  const { fromMs, toMs, stepMs, inputsAt, nextEventMs, causesAt, ...asked } = history;
  // As live: what found nothing, and no alert is about, takes no step.
  const options: EvaluateOptions = { ...asked, alertsOnly: true };
  const effects: Effect[] = [];
  let alerts: Alerts = asked.alerts ?? new Map<string, AlertState>();
  let instants = 0;
  for (let nowMs = fromMs; nowMs <= toMs;) {
    const inputs = inputsAt(nowMs);
    const causes = causesAt?.(nowMs) ?? [];
    const known =
      causes.length === 0 ? alerts : new Map([...alerts, ...causes.map((one) => [one.key, one] as const)]);
    const evaluated = evaluateAll(inputs, known, nowMs, options);
    alerts = without(evaluated.alerts, causes);
    effects.push(...evaluated.effects);
    instants += 1;
    const nextMs = Math.min(
      nextEventMs?.(nowMs) ?? Infinity,
      nextHoldEndMs(evaluated, nowMs),
      ...inputs.flatMap((input) => (input.on === 'nuc' ? scheduledTransitions(input, nowMs) : [])),
    );
    // To the minute, as the watch goes; an end of the span that is an event itself is the last instant.
    const eventMs = nextMs <= toMs ? Math.min(onGrid(nextMs, minuteMs), toMs) : Infinity;
    nowMs = Math.min(onGrid(nowMs + 1, stepMs), eventMs);
    yield;
  }
  return { alerts, effects, instants };
}

const onGrid = (atMs: number, stepMs: number): number => Math.ceil(atMs / stepMs) * stepMs;

function without(alerts: Alerts, causes: readonly AlertState[]): Alerts {
  if (causes.length === 0) return alerts;
  const left = new Map(alerts);
  for (const { key } of causes) left.delete(key);
  return left;
}

/** When the next hold time or clear time ends, if what was found goes on, ms; infinity where none is running. */
function nextHoldEndMs({ evaluations, alerts }: Evaluated, nowMs: number): number {
  let endMs = Infinity;
  for (const { key, holdMs, clearHoldMs } of evaluations) {
    const alert = alerts.get(key);
    const atMs = alert && nextChangeAtMs(alert, holdMs, clearHoldMs);
    if (atMs != null && atMs > nowMs) endMs = Math.min(endMs, atMs);
  }
  return endMs;
}

/** Instants to come at which the introduction goes on by its plan or by the calendar alone, ms. */
function scheduledTransitions({ plan, introduction }: NucInput, nowMs: number): number[] {
  const visits = plan.flatMap(({ done, earliestMs, targetMs, latestMs }) =>
    done ? [] : [earliestMs, targetMs, latestMs],
  );
  const dates = introduction
    ? [
        introduction.handsOffUntilMs,
        introduction.broodChangesAtMs,
        introduction.virgin?.possibleFromMs,
        introduction.layingWorkersWatchMs,
        introduction.layingWorkersLikelyMs,
      ]
    : [];
  return [...visits, ...dates].filter((atMs): atMs is number => atMs != null && atMs > nowMs);
}

/** Evaluates the whole span at once. */
export function runHistory(history: History): HistoryResult {
  const steps = evaluateHistory(history);
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
}
