/**
 * Late readings, looked at as if they had come in time. A gateway that was away delivers the night in the morning: the
 * rules are evaluated again over the span that the readings touch, from the state that the alerts were in before it, so that
 * a finding begins when it began and what is over is known to be over.
 */
import {
  episodeOf,
  isOpen,
  livePhase,
  type AlertState,
  type Effect,
  type Episode,
  type LivePhase,
} from '../rules/engine/alert-state.ts';
import { alertKey, type Alerts } from '../rules/engine/evaluate.ts';
import { evaluateHistory } from '../rules/engine/history.ts';
import type { NucInput } from '../rules/engine/inputs.ts';
import type { LimitSettings } from '../rules/engine/limits.ts';
import { rules } from '../rules/catalogue/registry.ts';
import { nucOf } from '../rules/engine/suppression.ts';
import type { EndedAlert } from './alert-book.ts';
import { minuteMs } from '../durations.ts';

/** A finding that began earlier than this and lasts is still seen to last. */
const longestBackMs = 3 * 24 * 60 * minuteMs;
/** Later than this a reading is late. */
export const lateMs = 10 * minuteMs;

/** What was known when the look back begins. */
export interface LookBack {
  readonly nucId: string;
  readonly book: Alerts;
  /** Alerts of this nuc that are over, newest first. */
  readonly ended: readonly EndedAlert[];
  /** Sees nothing later than its instant. */
  readonly inputsAt: (atMs: number) => readonly NucInput[];
  /** The earliest late reading. */
  readonly fromMs: number;
  /** When the nuc's introduction was opened: of the time before it nothing is told. */
  readonly openedAtMs?: number | undefined;
  readonly nowMs: number;
  /** Width of the grid that is evaluated, ms. */
  readonly stepMs: number;
  /** When something was logged about the nuc, ms. */
  readonly loggedMs: readonly number[];
  readonly limits: LimitSettings;
}

/** The nuc's alerts as they would stand, and what happened to them on the way. */
export interface LookedBack {
  readonly alerts: Alerts;
  readonly effects: readonly Effect[];
}

const nucRules = rules.filter(({ on }) => on === 'nuc');

/** Pauses after each instant, so that readings and pages are served in between. */
export function* lookBack(back: LookBack): Generator<undefined, LookedBack> {
  const { nucId, book, inputsAt, nowMs, stepMs, limits } = back;
  const { openedAtMs = -Infinity } = back;
  const fromMs = Math.min(nowMs, Math.max(back.fromMs, nowMs - longestBackMs, openedAtMs));
  const eventsMs = [...back.loggedMs, nowMs];
  const others = [...book.values()].filter(
    ({ subject }) => subject.kind !== 'nuc' && nucOf(subject) === nucId,
  );
  return yield* evaluateHistory({
    fromMs,
    toMs: nowMs,
    stepMs,
    limits,
    rules: nucRules,
    alerts: alertsBefore(back, fromMs),
    inputsAt,
    nextEventMs: (afterMs) => Math.min(...eventsMs.filter((atMs) => atMs > afterMs)),
    // What its sensors were found to do explains findings about the nuc, from when it was found.
    causesAt: (atMs) => others.filter((alert) => (episodeOf(alert)?.raisedAtMs ?? Infinity) <= atMs),
  });
}

/** The alerts of a nuc as they stood just before an instant, as far as their present state and history tell. */
function alertsBefore({ nucId, book, ended }: LookBack, atMs: number): Alerts {
  const before = new Map<string, AlertState>();
  for (const { ruleId, subject, episode, endedAtMs } of ended) {
    const key = alertKey(ruleId, subject);
    if (before.has(key)) continue;
    const at =
      endedAtMs < atMs
        ? ({ phase: 'cleared', episode, clearedAtMs: endedAtMs } as const)
        : begun(episode, atMs);
    if (at) before.set(key, { key, ruleId, subject, at });
  }
  for (const alert of book.values()) {
    if (alert.subject.kind !== 'nuc' || alert.subject.id !== nucId) continue;
    const at = phaseBefore(livePhase(alert), atMs);
    if (!at) continue;
    const noData = alert.at.phase === 'no-data' && alert.at.noDataSinceMs < atMs ? alert.at : null;
    before.set(alert.key, { ...alert, at: noData ? { ...noData, paused: at } : at });
  }
  return before;
}

function phaseBefore(live: LivePhase, atMs: number): LivePhase | null {
  switch (live.phase) {
    case 'quiet':
      return live;
    case 'holding':
      return live.sinceMs < atMs ? { ...live, unobservedMs: 0 } : null;
    case 'closed':
      return live.closedAtMs < atMs ? live : begun(live.episode, atMs);
    case 'cleared':
      return live.clearedAtMs < atMs ? live : begun(live.episode, atMs);
    case 'raised':
      return begun(live.episode, atMs);
    case 'clearing':
      return live.clearSinceMs < atMs ? { ...live, unobservedMs: 0 } : begun(live.episode, atMs);
  }
}

/** An episode as it stood at an instant before its end; null where it had not begun. */
function begun(episode: Episode, atMs: number): LivePhase | null {
  if (episode.raisedAtMs < atMs) return { phase: 'raised', episode };
  return episode.sinceMs < atMs ? { phase: 'holding', sinceMs: episode.sinceMs, unobservedMs: 0 } : null;
}

export interface CaughtUp {
  /** The book's alerts with what was found put in. */
  readonly alerts: Alerts;
  readonly changed: readonly AlertState[];
  /** What people are told: raisings that still stand, and the end of what they were told. */
  readonly news: readonly Effect[];
  /** Endings of what came and went in the meantime: kept for review, told to nobody. */
  readonly over: readonly Effect[];
}

/** Puts what a look back found into the book, which may have moved on since. What a keeper said stands. */
export function catchUp(
  book: Alerts,
  nucId: string,
  looked: LookedBack,
  ended: readonly EndedAlert[],
): CaughtUp {
  // By its time, not by its id: on another grid the same finding is raised at another minute.
  const known = (effect: Effect): boolean => ended.some((one) => coincide(one, effect));
  const keys = new Set(
    [...book.values(), ...looked.alerts.values()]
      .filter(({ subject }) => subject.kind === 'nuc' && subject.id === nucId)
      .map(({ key }) => key),
  );
  const alerts = new Map(book);
  const changed: AlertState[] = [];
  const news: Effect[] = [];
  const over: Effect[] = [];
  for (const key of keys) {
    const now = book.get(key);
    const then = looked.alerts.get(key);
    const effects = looked.effects.filter((effect) => effect.key === key);
    const settled = settle(now, then, effects);
    if (!settled) continue;
    const standing = settled.alert && isOpen(settled.alert) ? episodeOf(settled.alert)?.id : undefined;
    news.push(...settled.news.map((effect) => (known(effect) ? reopened(effect) : effect)));
    over.push(
      ...effects.filter(
        (effect) =>
          ends.has(effect.kind) &&
          effect.episode.id !== standing &&
          !known(effect) &&
          !settled.news.some((told) => told.episode.id === effect.episode.id),
      ),
    );
    const after = settled.alert ?? (now && { ...now, at: { phase: 'quiet' as const } });
    if (!after || same(now, after)) continue;
    changed.push(after);
    if (after.at.phase === 'quiet') alerts.delete(key);
    else alerts.set(key, after);
  }
  return { alerts, changed, news, over };
}

const coincide = (one: EndedAlert, { key, episode, atMs }: Effect): boolean =>
  alertKey(one.ruleId, one.subject) === key &&
  one.episode.sinceMs <= atMs &&
  episode.sinceMs <= one.endedAtMs;

const ends: ReadonlySet<Effect['kind']> = new Set(['cleared', 'no-longer-applies']);
const reopened = (effect: Effect): Effect =>
  effect.kind === 'raised' ? { ...effect, kind: 're-opened' } : effect;
const same = (a: AlertState | undefined, b: AlertState): boolean => JSON.stringify(a) === JSON.stringify(b);

interface Settled {
  readonly alert: AlertState | undefined;
  readonly news: readonly Effect[];
}

/** One alert as it is now and as it would be; null where it stays as it is. */
function settle(
  now: AlertState | undefined,
  then: AlertState | undefined,
  effects: readonly Effect[],
): Settled | null {
  const raisedThen = effects.filter(
    ({ kind, episode }) => kind === 'raised' && then && isOpen(then) && episodeOf(then)?.id === episode.id,
  );
  const live = now && livePhase(now);
  const standing = then && isOpen(then) ? episodeOf(then) : null;
  if (live?.phase === 'closed') {
    const anew = standing !== null && standing.sinceMs > live.closedAtMs;
    return anew ? { alert: then, news: raisedThen } : null;
  }
  if (!now || !isOpen(now)) return holdsLonger(now, then) ? null : { alert: then, news: raisedThen };
  const told = episodeOf(now) as Episode;
  if (then && standing && (standing.id === told.id || standing.sinceMs <= told.sinceMs)) {
    return { alert: begunAt(then, told, Math.min(standing.sinceMs, told.sinceMs)), news: [] };
  }
  const end = effects.filter(({ kind, episode }) => ends.has(kind) && episode.id === told.id);
  // Nothing in the history contradicts it: the next looks will say whether it is over.
  if (end.length === 0) return null;
  return { alert: then, news: [...end, ...raisedThen] };
}

/** What people were told stays what they were told, with its true beginning. */
function begunAt(then: AlertState, told: Episode, sinceMs: number): AlertState {
  const episode: Episode = { ...told, sinceMs };
  const withTold = (live: LivePhase): LivePhase => ('episode' in live ? { ...live, episode } : live);
  const { at } = then;
  return { ...then, at: at.phase === 'no-data' ? { ...at, paused: withTold(at.paused) } : withTold(at) };
}

/** What has been holding since before the late readings goes on holding: looking back must not start it anew. */
const holdsLonger = (before: AlertState | undefined, found: AlertState | undefined): boolean =>
  before?.at.phase === 'holding' && found?.at.phase === 'holding' && before.at.sinceMs <= found.at.sinceMs;
