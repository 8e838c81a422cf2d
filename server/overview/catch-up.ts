/**
 * Late readings, looked at as if they had come in time. A gateway that was away delivers the night in the morning: a
 * trouble that lasts has then been holding for hours, and must not wait for its hold to run anew.
 */
import { episodeOf, isOpen, type AlertState, type Effect } from '../rules/alert-state.ts';
import { alertKey, evaluateAll, type Alerts } from '../rules/evaluate.ts';
import type { NucInput } from '../rules/inputs.ts';
import type { LimitSettings } from '../rules/limits.ts';
import { rules } from '../rules/registry.ts';

const minuteMs = 60_000;
/** Between two looks back. */
const backStepMs = 15 * minuteMs;
/** Long enough for the longest hold; what began earlier and lasts is still seen to last. */
const longestBackMs = 3 * 60 * minuteMs;
/** Later than this a reading is late. */
export const lateMs = 10 * minuteMs;

export interface CaughtUp {
  /** The book's alerts with what was found put in. */
  readonly alerts: Alerts;
  readonly changed: readonly AlertState[];
  /** Raisings that still stand: people are told of these. */
  readonly standing: readonly Effect[];
  /** Endings of what came and went in the meantime: kept for review, told to nobody. */
  readonly over: readonly Effect[];
}

/** `inputAt` sees nothing later than its instant. Alerts that are under way already are left as they are. */
export function catchUp(
  book: Alerts,
  inputAt: (atMs: number) => NucInput | undefined,
  fromMs: number,
  nowMs: number,
  limits: LimitSettings,
): CaughtUp | undefined {
  const last = inputAt(nowMs);
  if (!last) return undefined;
  const unmoved = rules.filter(
    (rule) => rule.on === 'nuc' && !underWay(book.get(alertKey(rule.id, last.subject))),
  );
  let alerts: Alerts = new Map();
  const effects: Effect[] = [];
  for (const atMs of instants(fromMs, nowMs)) {
    const input = atMs === nowMs ? last : inputAt(atMs);
    if (!input) continue;
    const evaluated = evaluateAll([input], alerts, atMs, { rules: unmoved, limits });
    alerts = evaluated.alerts;
    effects.push(...evaluated.effects);
  }
  const changed = [...alerts.values()].filter((alert) => !holdsLonger(book.get(alert.key), alert));
  const open = new Set(changed.filter(isOpen).flatMap((alert) => episodeOf(alert)?.id ?? []));
  return {
    alerts: new Map([...book, ...changed.map((alert) => [alert.key, alert] as const)]),
    changed,
    standing: effects.filter(({ kind, episode }) => kind === 'raised' && open.has(episode.id)),
    over: effects.filter(
      ({ kind, episode }) => (kind === 'cleared' || kind === 'no-longer-applies') && !open.has(episode.id),
    ),
  };
}

/** What has been holding since before the late readings goes on holding: looking back must not start it anew. */
const holdsLonger = (before: AlertState | undefined, found: AlertState): boolean =>
  before?.at.phase === 'holding' && found.at.phase === 'holding' && before.at.sinceMs <= found.at.sinceMs;

const underWay = (alert: AlertState | undefined): boolean => alert !== undefined && episodeOf(alert) !== null;

function* instants(fromMs: number, nowMs: number): Generator<number> {
  const first = Math.max(fromMs, nowMs - longestBackMs);
  for (let atMs = Math.ceil(first / backStepMs) * backStepMs; atMs < nowMs; atMs += backStepMs) yield atMs;
  yield nowMs;
}
