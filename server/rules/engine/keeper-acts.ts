/** What a person can do about an alert: seen, put off, closed with what was found, opened again. */
import type { Act, AlertState, LivePhase, Step, WithEpisode } from './alert-state.ts';
import { happen, nothing, raise } from './transition.ts';

/** An alert without data stays without data: the act goes to what is waiting underneath. */
export function act(alert: AlertState, a: Act): Step {
  const { at } = alert;
  if (at.phase !== 'no-data') return actOn(alert, at, a);
  const { alert: acted, effects } = actOn(alert, at.paused, a);
  if (effects.length === 0 || acted.at.phase === 'no-data') return nothing(alert);
  return { alert: { ...acted, at: { ...at, paused: acted.at } }, effects };
}

function actOn(alert: AlertState, at: LivePhase, a: Act): Step {
  switch (at.phase) {
    case 'quiet':
    case 'holding':
      return nothing(alert);
    case 'closed':
      if (a.type !== 'reopen') return nothing(alert);
      return raise(alert, { ...at.episode, seen: null }, 're-opened', a.nowMs, a.by);
    case 'cleared':
      // Over by itself; what was found may still be written down.
      return a.type === 'close' ? close(alert, at, a) : nothing(alert);
    case 'raised':
    case 'clearing':
      return actOnOpen(alert, at, a);
  }
}

function actOnOpen(alert: AlertState, at: WithEpisode, a: Act): Step {
  const mark = { atMs: a.nowMs, by: a.by };
  switch (a.type) {
    case 'seen': {
      const note = a.note === undefined ? {} : { note: a.note };
      const text = a.note === undefined ? {} : { text: a.note };
      const seen = { by: a.by, atMs: a.nowMs, ...note };
      return happen(alert, { ...at, episode: { ...at.episode, seen } }, { ...mark, what: 'seen', ...text });
    }
    case 'put-off':
      if (a.untilMs <= a.nowMs) return nothing(alert);
      return happen(
        alert,
        { ...at, episode: { ...at.episode, putOffUntilMs: a.untilMs } },
        { ...mark, what: 'put-off' },
      );
    case 'close':
      return close(alert, at, a);
    case 'reopen':
      return nothing(alert);
  }
}

function close(alert: AlertState, { episode }: WithEpisode, a: Extract<Act, { type: 'close' }>): Step {
  return happen(
    alert,
    { phase: 'closed', episode, closedAtMs: a.nowMs },
    { atMs: a.nowMs, by: a.by, what: 'closed', text: a.found },
  );
}
