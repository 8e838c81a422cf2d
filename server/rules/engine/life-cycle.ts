/**
 * The life of one alert, as a pure machine: a state and an input give the next state and what follows.
 *
 * A finding must hold before it is raised and stay past its easier limit before it is cleared. A hold
 * is never a counter: it is `now − sinceMs − unobservedMs`, so that a state changes only when something
 * happened, survives a restart as it is, and does not count the time in which nobody was looking.
 */
import type {
  AlertState,
  Clearing,
  Episode,
  Holding,
  LifeCycleInput,
  LivePhase,
  Step,
  Tick,
} from './alert-state.ts';
import { livePhase } from './alert-state.ts';
import { act } from './keeper-acts.ts';
import { happen, move, nothing, raise } from './transition.ts';
import { urgencies } from './types.ts';

export function stepAlert(alert: AlertState, input: LifeCycleInput): Step {
  return input.type === 'tick' ? tick(alert, input) : act(alert, input);
}

function tick(alert: AlertState, t: Tick): Step {
  const { at } = alert;
  const live = livePhase(alert);
  if (!isSaid(t) && (live.phase === 'raised' || live.phase === 'clearing') && isPast(live.episode, t))
    return clear(alert, live.episode, t, 'no-longer-applies');
  if (t.verdict === 'no-data') {
    if (at.phase === 'no-data') return nothing(alert);
    return move(alert, { phase: 'no-data', noDataSinceMs: t.nowMs, paused: at });
  }
  if (at.phase !== 'no-data') return advance(alert, at, t);
  const gapMs = t.nowMs - at.noDataSinceMs;
  // A gap longer than the hold itself proves nothing about the time in between: the hold starts again.
  const stale = at.paused.phase === 'holding' && gapMs > t.holdMs;
  return advance(alert, stale ? { phase: 'quiet' } : at.paused, t, gapMs);
}

/** @param unobservedMs the gap in the data that ended with this tick */
function advance(alert: AlertState, at: LivePhase, t: Tick, unobservedMs = 0): Step {
  const over = t.verdict === 'not-applicable';
  const fine = t.verdict === 'no' && t.clear;
  switch (at.phase) {
    case 'quiet':
    case 'cleared':
      if (t.verdict !== 'yes') return move(alert, at);
      return raiseOrWait(alert, { phase: 'holding', sinceMs: t.nowMs, unobservedMs: 0 }, t);
    case 'holding':
      return t.verdict === 'yes'
        ? raiseOrWait(alert, withUnobserved(at, unobservedMs), t)
        : move(alert, { phase: 'quiet' });
    case 'raised': {
      if (over) return clear(alert, at.episode, t, 'no-longer-applies');
      const { episode } = at;
      if (fine)
        return clearOrWait(alert, { phase: 'clearing', episode, clearSinceMs: t.nowMs, unobservedMs: 0 }, t);
      return stayRaised(alert, episode, t);
    }
    case 'clearing':
      if (over) return clear(alert, at.episode, t, 'no-longer-applies');
      return fine
        ? clearOrWait(alert, withUnobserved(at, unobservedMs), t)
        : stayRaised(alert, at.episode, t);
    case 'closed':
      if (over || fine) return move(alert, { phase: 'cleared', episode: at.episode, clearedAtMs: t.nowMs });
      if (t.verdict !== 'yes' || t.nowMs - at.closedAtMs < t.closedStandsMs) return move(alert, at);
      return raise(alert, renewedUnseen(at.episode, t), 'still-so', t.nowMs);
  }
}

const withUnobserved = <P extends Holding | Clearing>(at: P, unobservedMs: number): P =>
  unobservedMs === 0 ? at : { ...at, unobservedMs: at.unobservedMs + unobservedMs };

/** Raises as soon as the hold has lasted. */
function raiseOrWait(alert: AlertState, at: Holding, t: Tick): Step {
  if (!t.message || t.nowMs - at.sinceMs - at.unobservedMs < t.holdMs) return move(alert, at);
  const episode: Episode = {
    id: `${alert.key}/${String(at.sinceMs)}`,
    sinceMs: at.sinceMs,
    raisedAtMs: t.nowMs,
    urgency: t.urgency,
    message: t.message,
    ...(t.evidence && { evidence: t.evidence }),
    seen: null,
    putOffUntilMs: null,
    marks: [],
  };
  return raise(alert, episode, 'raised', t.nowMs);
}

/** Clears as soon as it has been clear for long enough. */
function clearOrWait(alert: AlertState, at: Clearing, t: Tick): Step {
  if (t.nowMs - at.clearSinceMs - at.unobservedMs < t.clearHoldMs) return move(alert, at);
  return clear(alert, at.episode, t, 'cleared');
}

/** Still true: worth a word only when it got more pressing or a put-off ran out. */
function stayRaised(alert: AlertState, episode: Episode, t: Tick): Step {
  if (t.verdict === 'yes' && urgencies.indexOf(t.urgency) < urgencies.indexOf(episode.urgency)) {
    return raise(alert, renewedUnseen(episode, t), 'worsened', t.nowMs);
  }
  if (episode.putOffUntilMs !== null && t.nowMs >= episode.putOffUntilMs) {
    return raise(alert, { ...renewed(episode, t), putOffUntilMs: null }, 'put-off-over', t.nowMs);
  }
  // The moment that was foreseen is over, and another is foreseen, or it has come: the same alert says that.
  if (isSaid(t) && (isPast(episode, t) || (t.verdict === 'no') !== (episode.cameAtMs !== undefined)))
    return move(alert, { phase: 'raised', episode: renewed(episode, t) });
  return move(alert, alert.at.phase === 'raised' ? alert.at : { phase: 'raised', episode });
}

const isPast = ({ message: { untilMs = Infinity } }: Episode, { nowMs }: Tick): boolean => nowMs >= untilMs;

/** A finding, or what was foreseen and has come. */
const isSaid = ({ verdict, message }: Tick): boolean =>
  verdict === 'yes' || (verdict === 'no' && message !== undefined);

function renewed({ cameAtMs, ...episode }: Episode, t: Tick): Episode {
  const { message = episode.message, evidence = episode.evidence } = t;
  const told = { ...episode, message, ...(evidence && { evidence }) };
  return t.verdict === 'no'
    ? { ...told, ...(isSaid(t) ? { cameAtMs: cameAtMs ?? t.nowMs } : cameAtMs !== undefined && { cameAtMs }) }
    : { ...told, urgency: t.urgency };
}

/** As it is now, and nobody has seen that yet. */
const renewedUnseen = (episode: Episode, t: Tick): Episode => ({
  ...renewed(episode, t),
  seen: null,
  putOffUntilMs: null,
});

function clear(alert: AlertState, episode: Episode, t: Tick, what: 'cleared' | 'no-longer-applies'): Step {
  return happen(alert, { phase: 'cleared', episode, clearedAtMs: t.nowMs }, { atMs: t.nowMs, what });
}
