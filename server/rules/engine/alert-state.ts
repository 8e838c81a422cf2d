/**
 * What an alert can be, what can happen to it, and what follows. All plain data: it is stored as it is
 * and a restart goes on where it stood.
 */
import type { AlertMessage, Evidence, Subject, Urgency, Verdict } from './types.ts';

/** Something that happened to an episode, kept with it as its history. */
export interface Mark {
  readonly atMs: number;
  readonly what: EffectKind;
  readonly by?: string;
  /** The note, or what was found. */
  readonly text?: string;
}

/** What was raised, once: from here on it has an id and people may be told. */
export interface Episode {
  readonly id: string;
  readonly sinceMs: number;
  readonly raisedAtMs: number;
  readonly urgency: Urgency;
  /** As it was when raised or last told; the figures of this minute are in the rule's evaluation. */
  readonly message: AlertMessage;
  readonly evidence?: Evidence;
  readonly seen: { readonly by: string; readonly atMs: number; readonly note?: string } | null;
  readonly putOffUntilMs: number | null;
  /** Since when what was foreseen is there; absent while it is ahead. */
  readonly cameAtMs?: number;
  readonly marks: readonly Mark[];
}

export interface Quiet {
  readonly phase: 'quiet';
}
export interface Holding {
  readonly phase: 'holding';
  readonly sinceMs: number;
  /** Time since then in which nobody was looking: it does not count. */
  readonly unobservedMs: number;
}
export interface Raised {
  readonly phase: 'raised';
  readonly episode: Episode;
}
export interface Clearing {
  readonly phase: 'clearing';
  readonly episode: Episode;
  readonly clearSinceMs: number;
  readonly unobservedMs: number;
}
export interface Cleared {
  readonly phase: 'cleared';
  readonly episode: Episode;
  readonly clearedAtMs: number;
}
/** A keeper said what was found; quiet until it was clear once, or has gone on for too long. */
export interface Closed {
  readonly phase: 'closed';
  readonly episode: Episode;
  readonly closedAtMs: number;
}
export type WithEpisode = Raised | Clearing | Cleared | Closed;
export type LivePhase = Quiet | Holding | WithEpisode;

/** No data is neither good news nor bad: what was going on waits, and is taken up again. */
export interface NoData {
  readonly phase: 'no-data';
  readonly noDataSinceMs: number;
  readonly paused: LivePhase;
}

export interface AlertState {
  /** Rule and subject; one alert each. */
  readonly key: string;
  readonly ruleId: string;
  readonly subject: Subject;
  readonly at: LivePhase | NoData;
}

/** One evaluation of the rule, with the holds in force at that moment: a changed limit is just another input. */
export interface Tick {
  readonly type: 'tick';
  readonly nowMs: number;
  /** `explained`: true, but another finding says why, so it is not news of its own. */
  readonly verdict: Verdict | 'explained';
  readonly clear: boolean;
  readonly holdMs: number;
  readonly clearHoldMs: number;
  /** How long a keeper's word on it stands while the finding stays true. */
  readonly closedStandsMs: number;
  readonly urgency: Urgency;
  readonly message?: AlertMessage;
  readonly evidence?: Evidence;
}

/** What a person does about an alert. */
export type Act =
  | { readonly type: 'seen'; readonly nowMs: number; readonly by: string; readonly note?: string }
  | { readonly type: 'put-off'; readonly nowMs: number; readonly by: string; readonly untilMs: number }
  | { readonly type: 'close'; readonly nowMs: number; readonly by: string; readonly found: string }
  | { readonly type: 'reopen'; readonly nowMs: number; readonly by: string };

export type LifeCycleInput = Tick | Act;

export const effectKinds = [
  'raised',
  'worsened',
  'cleared',
  'no-longer-applies',
  'seen',
  'put-off',
  'put-off-over',
  'closed',
  're-opened',
  'still-so',
] as const;
export type EffectKind = (typeof effectKinds)[number];

export interface Effect {
  readonly kind: EffectKind;
  readonly atMs: number;
  readonly key: string;
  readonly ruleId: string;
  readonly subject: Subject;
  readonly episode: Episode;
  /** The rule whose alert tells it from now on: nothing is over. */
  readonly toldBy?: string;
}

export interface Step {
  readonly alert: AlertState;
  readonly effects: readonly Effect[];
}

export const quietAlert = (key: string, ruleId: string, subject: Subject): AlertState => ({
  key,
  ruleId,
  subject,
  at: { phase: 'quiet' },
});

export const livePhase = ({ at }: AlertState): LivePhase => (at.phase === 'no-data' ? at.paused : at);

/** The episode that an alert is in or was last in. */
export function episodeOf(alert: AlertState): Episode | null {
  const live = livePhase(alert);
  return 'episode' in live ? live.episode : null;
}

/** Raised and not yet cleared or closed: the finding stands. */
export const isOpen = (alert: AlertState): boolean => ['raised', 'clearing'].includes(livePhase(alert).phase);

/** When it will be raised or cleared if things stay as they are; null where nothing runs. */
export function nextChangeAtMs(alert: AlertState, holdMs: number, clearHoldMs: number): number | null {
  const { at } = alert;
  if (at.phase === 'holding') return at.sinceMs + at.unobservedMs + holdMs;
  const untilMs = isOpen(alert) ? (episodeOf(alert)?.message.untilMs ?? null) : null;
  if (at.phase !== 'clearing') return untilMs;
  return Math.min(at.clearSinceMs + at.unobservedMs + clearHoldMs, untilMs ?? Infinity);
}
