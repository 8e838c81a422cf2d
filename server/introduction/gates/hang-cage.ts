/** May the caged queen be hung, candy end closed? From the day of the split on, where no other queen is. */
import { framesForIntroduction, queenColdC, lowEnd } from '../../biology/figures.ts';
import type { IntroductionState } from '../state.ts';
import { earlierQueenOut, layingWorkers, notClosed, queenlessness } from './common-bars.ts';
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

function queenAtHand({ queen }: IntroductionState): Bar {
  switch (queen.where) {
    case 'in-cage':
      return stops('A cage hangs already', 'A caged queen hangs in this nuc.');
    case 'released':
    case 'seen-loose':
      return stops(
        'A queen is loose in it',
        'The queen was let out: another one would be killed or kill her.',
      );
    case 'dead':
      return waits(
        'The queen is dead',
        'The queen for this nuc is logged as dead: log the next one when she arrives.',
      );
    case 'gone':
      return waits(
        'The queen is gone',
        'The queen that was let out is shown to be gone: log the next one when she arrives.',
      );
    case 'not-here':
      return notKnown('No queen is logged as arrived.');
    case 'arrived':
    case 'taken-out':
      return holds('A queen is at hand.');
  }
}

function noFreeQueen(state: IntroductionState): Bar {
  const { virgin } = state;
  if (virgin.loose === 'seen')
    return stops('A virgin is in the box', 'A virgin was seen and is not logged as taken away.');
  return state.evidence.queenless === 'not-shown'
    ? notKnown(`Not shown to be queenless: ${state.evidence.queenlessWhy}.`)
    : queenlessness(state);
}

function strong({ strength }: GateEvidence, state: IntroductionState): Bar {
  const figure = cite('frames of bees wanted', framesForIntroduction);
  if (strength) {
    if (strength.enough === 'unknown') return notKnown(strength.text);
    return strength.enough
      ? holds(strength.text, figure)
      : waits('Too few bees to keep her warm', strength.text, undefined, figure);
  }
  const frames = state.split?.framesOfBees;
  if (frames === undefined) return notKnown('Nobody logged how many frames of bees there are.');
  const least = lowEnd(framesForIntroduction);
  return frames >= least
    ? holds(`The split had ${String(frames)} frames of bees.`, figure)
    : waits(
        'Too few bees to keep her warm',
        `The split had only ${String(frames)} frames of bees.`,
        undefined,
        figure,
      );
}

function warm({ outlook }: GateEvidence): Bar {
  if (!outlook) return notKnown('No temperature outlook.');
  const figure = cite('too cold for a queen below', queenColdC);
  if (outlook.tooCold === 'unknown') return notKnown(outlook.text);
  return outlook.tooCold
    ? waits('Too cold tonight', outlook.text, undefined, figure)
    : holds(outlook.text, figure);
}

export function mayHangCage(state: IntroductionState, evidence: GateEvidence, nowMs: number): Gate {
  const mesh = state.setup.method === 'push-in-cage';
  const planned =
    state.day0Ms === null || nowMs < state.day0Ms
      ? waits('The split has not been made', 'No split is logged yet.')
      : null;
  const bars = [
    notClosed(state),
    planned,
    queenAtHand(state),
    earlierQueenOut(state),
    noFreeQueen(state),
    layingWorkers(state, nowMs),
    strong(evidence, state),
    warm(evidence),
    notKnown(
      mesh
        ? 'See that the mesh stands over emerging brood and some stores, and that no bee can get under it.'
        : 'See that the candy end is closed and the cage hangs flat between two brood frames, held by a line.',
    ),
  ].filter((bar): bar is Bar => bar !== null);
  return withOverride(
    state,
    decide('hang-cage', bars, mesh ? 'Press the mesh over her' : 'Hang the cage, candy end closed'),
  );
}
