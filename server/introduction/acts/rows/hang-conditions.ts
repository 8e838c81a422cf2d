/** May the cage be hung, or the mesh pressed over her? */
import { framesForIntroduction, lowEnd, queenColdC } from '../../../biology/figures.ts';
import { startOfDayAfter } from '../../calendar.ts';
import { heldBack } from '../days/test-frame-plan.ts';
import type { IntroductionState } from '../../state.ts';
import {
  begun,
  earlierQueenOut,
  layingWorkers,
  leftTogether,
  nextSearch,
  notClosed,
  present,
  queenlessness,
  strangerSeenMs,
  virginInIt,
} from '../common-conditions.ts';
import { blocked, cite, met, pending, since, unknown, type Condition } from '../condition.ts';
import { countsOfBees, framesOfBees } from '../frames-of-bees.ts';
import type { Situation } from '../situation.ts';
import { carriesNothing } from './disease.ts';

function queenAtHand({ state, draftOf }: Situation): Condition {
  switch (state.queen.where) {
    case 'in-cage':
      return blocked('A cage hangs already', 'A caged queen hangs in this nuc.', { first: 'open-candy' });
    case 'released':
    case 'seen-loose':
      if (draftOf('close-candy'))
        return unknown('The candy is open: shut her in again if she is still in her cage.');
      if (state.queen.releasedAtMs === null)
        return since(
          strangerSeenMs(state),
          blocked(
            'A queen is loose in it',
            'A queen was seen walking free, and by the log none was let out. If she is the one you gave, log when she was hung and let out; if not, take her away.',
            { first: 'take-queen-out' },
          ),
        );
      return blocked(
        state.queen.where === 'released' ? 'A queen was let out' : 'A queen is loose in it',
        'The queen was let out: another one would be killed or kill her.',
        state.queen.notFoundAtMs.length === 0 ? { first: 'look-for-queen' } : { first: nextSearch(state) },
      );
    case 'dead':
      return pending(
        'The queen is dead',
        'The queen for this nuc is logged as dead: log the next one when she arrives.',
        { first: 'queen-arrives' },
      );
    case 'gone':
      return pending(
        'The queen is gone',
        'The queen for this nuc is gone: log the next one when she arrives.',
        { first: 'queen-arrives' },
      );
    case 'not-here':
      return unknown('No queen is logged as arrived.');
    case 'arrived':
    case 'taken-out':
      return met('A queen is at hand.');
  }
}

function noFreeQueen(state: IntroductionState, nowMs: number): Condition {
  if (state.virgin.loose === 'seen') return virginInIt(state);
  if (heldBack(state) === 'unite')
    return blocked(
      'A queen is loose in it',
      'Two test frames in a row had no queen cell: a queen of some kind is in the box, and nobody found her.',
      { first: 'unite' },
    );
  return state.evidence.queenless === 'not-shown'
    ? unknown(`Not shown to be queenless: ${state.evidence.queenlessWhy}.`)
    : queenlessness(state, nowMs);
}

const isFew = ({ frames }: { readonly frames: number }): boolean => frames < lowEnd(framesForIntroduction);

/** The first of the last counts in a row with too few bees; NaN where the last one has enough. */
export function tooFewBeesSinceMs(state: IntroductionState): number {
  const counts = countsOfBees(state);
  return counts[counts.findLastIndex((count) => !isFew(count)) + 1]?.atMs ?? NaN;
}

/** The first count with enough bees after one with too few; -Infinity where they were enough all the time. */
export function enoughBeesSinceMs(state: IntroductionState): number {
  const counts = countsOfBees(state);
  const few = counts.findLastIndex(isFew);
  return few < 0 ? -Infinity : (counts[few + 1]?.atMs ?? -Infinity);
}

export const tooFewBees = (state: IntroductionState): boolean =>
  (framesOfBees(state) ?? Infinity) < lowEnd(framesForIntroduction);

/** Bees are given while she is in her cage: strange ones could ball her later, and the nuc stays shut once she is out. Common practice. */
export function beesForHer(state: IntroductionState): Condition | null {
  const frames = framesOfBees(state);
  if (frames === undefined || !tooFewBees(state)) return null;
  if (frames === 0)
    return pending('No bees are left', 'At the last count no bees were left: let out, she would be alone.', {
      first: 'add-bees',
    });
  return pending(
    weak,
    `At the last count there ${were(frames)} only ${inFrames(frames)}: add bees while she is in her cage.`,
    { first: 'add-bees' },
    cite('enough to keep her warm', framesForIntroduction),
  );
}

const weak = 'Too few bees to keep her warm';

const inFrames = (frames: number): string => `${String(frames)} ${frames === 1 ? 'frame' : 'frames'} of bees`;

/** By the sensors where they can tell, else by the keeper's last count. */
function strong({ evidence: { strength }, state }: Situation): readonly Condition[] {
  const figure = cite('enough to keep her warm', framesForIntroduction);
  if (strength && strength.enough !== 'unknown') {
    return [
      strength.enough
        ? met(strength.text, figure)
        : pending(weak, strength.text, { first: 'add-bees' }, figure),
    ];
  }
  const bySensors = strength ? [unknown(strength.text)] : [];
  const frames = framesOfBees(state);
  if (frames === undefined)
    return strength ? bySensors : [unknown('Nobody logged how many frames of bees there are.')];
  const counted = tooFewBees(state)
    ? pending(
        weak,
        `At the last count there ${were(frames)} only ${inFrames(frames)}.`,
        { first: 'add-bees' },
        figure,
      )
    : met(`At the last count there ${were(frames)} ${inFrames(frames)}.`, figure);
  return [counted, ...bySensors];
}

const were = (frames: number): string => (frames === 1 ? 'was' : 'were');

function warm({ evidence: { outlook }, nowMs, clock }: Situation): Condition {
  if (!outlook) return unknown('No temperature outlook.');
  const figure = cite('too cold for a queen below', queenColdC);
  if (outlook.tooCold === 'unknown') return unknown(outlook.text);
  return outlook.tooCold
    ? pending(
        'Too cold tonight',
        outlook.text,
        { untilMs: startOfDayAfter(nowMs, 1, clock.timeZone) },
        figure,
      )
    : met(outlook.text, figure);
}

/** Local law decides; the caution stands wherever it is not known that she is from here. */
function imported({ queen }: IntroductionState): Condition | null {
  if (queen.origin === 'own' || queen.origin === 'same-country') return null;
  const from =
    queen.origin === 'abroad' ? 'She comes from abroad: local' : 'Does she come from abroad? Then local';
  return unknown(
    `${from} law may want her in a new cage before she is hung. It may want the old cage, its attendants and all packing in a laboratory. Ask the inspector first.`,
  );
}

/** Common practice. */
export const keepHer =
  'Until then keep her with her attendants, warm, dark and quiet, a drop of water on the mesh.';

/** She may hang today, and the plan puts it into the visit of the cut. */
const mayWait = (waitsForCut: boolean): Condition | null =>
  waitsForCut ? met(`She may hang today, or in the visit of the cut by tomorrow. ${keepHer}`) : null;

export function hangConditions(situation: Situation, waitsForCut: boolean): readonly Condition[] {
  const { state, nowMs } = situation;
  const notBegun = begun(state, nowMs);
  if (notBegun) return present([notClosed(state), notBegun]);
  return present([
    notClosed(state),
    carriesNothing(state),
    queenAtHand(situation),
    earlierQueenOut(state),
    noFreeQueen(state, nowMs),
    layingWorkers(state, nowMs),
    ...strong(situation),
    leftTogether(state, situation.evidence),
    warm(situation),
    imported(state),
    mayWait(waitsForCut),
    unknown(
      state.setup.method === 'push-in-cage'
        ? 'See that the mesh stands over emerging brood and some stores, and that no bee can get under it.'
        : 'See that tape covers the candy end and the cage hangs flat between two brood frames, tied.',
    ),
  ]);
}
