/** The few moves that the life cycle is made of; each gives a whole next state. */
import type { AlertState, EffectKind, Episode, Mark, Step, WithEpisode } from './alert-state.ts';

/** Nothing to tell; the very same alert where nothing changed, so that callers can compare by identity. */
export const move = (alert: AlertState, at: AlertState['at']): Step => ({
  alert: at === alert.at ? alert : { ...alert, at },
  effects: [],
});

export const nothing = (alert: AlertState): Step => ({ alert, effects: [] });

/** Into `live`, with the episode that stands in it, the mark in its history and one effect. */
export function happen(alert: AlertState, live: WithEpisode, mark: Mark): Step {
  const episode: Episode = { ...live.episode, marks: [...live.episode.marks, mark] };
  const { key, ruleId, subject } = alert;
  return {
    alert: { ...alert, at: { ...live, episode } },
    effects: [{ kind: mark.what, atMs: mark.atMs, key, ruleId, subject, episode }],
  };
}

export const raise = (
  alert: AlertState,
  episode: Episode,
  what: EffectKind,
  atMs: number,
  by?: string,
): Step => happen(alert, { phase: 'raised', episode }, { atMs, what, ...(by !== undefined && { by }) });
