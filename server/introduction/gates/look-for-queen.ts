/** May the nuc be opened to look for the queen? Never before three full days, a week is better. */
import { say } from '../../words/phrase.ts';
import { handsOffDays, lookAgainForQueenDays, lowEnd } from '../../biology/figures.ts';
import { addDays, startOfDayAfter } from '../calendar.ts';
import { lastOf } from '../effective-facts.ts';
import type { IntroductionState } from '../state.ts';
import { notClosed } from './common-bars.ts';
import {
  cite,
  decide,
  holds,
  notKnown,
  stops,
  waits,
  type Bar,
  type Gate,
  type GateEvidence,
} from './gate.ts';
import { withOverride } from './override.ts';

function handsOff({ queen, setup }: IntroductionState, evidence: GateEvidence, nowMs: number): Bar {
  const { releasedAtMs } = queen;
  const missedMs = lastOf(queen.notFoundAtMs);
  if (missedMs !== undefined) {
    const again = cite('days to the next look', lookAgainForQueenDays);
    const from = startOfDayAfter(missedMs, lookAgainForQueenDays.value, setup.timeZone);
    return nowMs >= from
      ? holds('Days have passed since she was not found.', again)
      : waits(
          'She was not found: look again after some days',
          'Not finding a queen is not losing her: leave the nuc shut for four to five days, then look again.',
          from,
          again,
        );
  }
  if (releasedAtMs === null)
    return waits(
      setup.method === 'push-in-cage' ? 'The mesh is on her' : 'The candy is not open yet',
      'The queen has not been let out.',
    );
  const figure = cite('days of hands off', handsOffDays);
  const least = addDays(releasedAtMs, lowEnd(handsOffDays), setup.timeZone);
  const better = startOfDayAfter(releasedAtMs, handsOffDays.value, setup.timeZone);
  if (nowMs < least) {
    const bar = stops(
      'Hands off',
      'Not three full days since she was let out: a look now can get the queen killed.',
      figure,
    );
    return { ...bar, bars: { answer: 'stop', headline: 'Hands off', untilMs: least } };
  }
  if (nowMs >= better) return holds('A week has passed since she was let out.', figure);
  return evidence.trouble
    ? holds(say`Three full days have passed, and there is a cause to look: ${evidence.trouble}`, figure)
    : waits(
        'Better wait for the week',
        'Three full days have passed; a week is better where nothing is wrong.',
        better,
        figure,
      );
}

function weather({ weather: w }: GateEvidence, nowMs: number, timeZone: string): Bar {
  if (!w) return notKnown('Choose a warm, calm hour.');
  if (w.fitToOpen === 'unknown') return notKnown(w.text);
  return w.fitToOpen
    ? holds(w.text)
    : waits('Not in this weather', w.text, startOfDayAfter(nowMs, 1, timeZone));
}

export function mayLookForQueen(state: IntroductionState, evidence: GateEvidence, nowMs: number): Gate {
  const bars = [
    notClosed(state),
    handsOff(state, evidence, nowMs),
    weather(evidence, nowMs, state.setup.timeZone),
  ].filter((bar): bar is Bar => bar !== null);
  return withOverride(
    state,
    decide('look-for-queen', bars, 'Look for the empty cage, the queen and her eggs'),
  );
}
