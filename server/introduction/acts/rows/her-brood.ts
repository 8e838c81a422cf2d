/** Her brood: proved, grafted from, or the end of hope. */
import { searchesBeforeUniting, workerSealedDays } from '../../../biology/figures.ts';
import { afterAcceptance } from '../../after-acceptance.ts';
import { cellEmerged, rivalSeen } from '../../cells/rival-seen.ts';
import { lastOf, ofKind } from '../../log/effective-facts.ts';
import { disprovedFromMs, eggsInDoubt, layingSignWords } from '../../brood/eggs-in-doubt.ts';
import { onceAVisit } from '../../log/looks.ts';
import { heldBack, searchedEnough } from '../days/test-frame-plan.ts';
import { late, searchAgainWindow, sealedBroodWindow, type Clock } from '../days/plan-windows.ts';
import { mayBeOut, noEggsForTwoWeeks } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import { notClosed, present, queenlessness } from '../common-conditions.ts';
import type { Condition } from '../condition.ts';
import { noBeesLeft } from '../frames-of-bees.ts';
import { doneBy, soon, soonFor } from '../situation.ts';
import { atHome, visit } from '../words.ts';
import { laysDrones, neverLaid } from './after-release.ts';
import { carriesNothing } from './disease.ts';
import {
  flewOffMs,
  fromArrival,
  lookConditions,
  lookFrom,
  lookedSince,
  outAt,
  over,
} from './look-conditions.ts';

/** Looks since she was let out that met her, or eggs, and no sealed worker brood. */
const notSealed = (state: IntroductionState, releasedMs: number) =>
  lookedSince(state, releasedMs).flatMap(({ atMs, fact }) =>
    fact.kind === 'looked-for-queen' && (fact.eggsSeen || fact.queenSeen) && !fact.sealedWorkerBroodSeen
      ? [{ atMs, eggsSeen: fact.eggsSeen }]
      : [],
  );

/** The last of them, or of sights of brood that is no mated queen's: some days later it is looked again. */
function notSealedYetMs(state: IntroductionState, releasedMs: number): number | null {
  const looked = lastOf(notSealed(state, releasedMs));
  const seenMs = Math.max(looked?.atMs ?? -Infinity, state.signs.layingWorkers?.atMs ?? -Infinity);
  return seenMs >= releasedMs ? seenMs : null;
}

/** Two looks met her, or eggs, so long after her first ones that worker brood would be sealed, and none was. */
function neverSealed(state: IntroductionState, clock: Clock): boolean {
  const { releasedAtMs, firstEggsAtMs, sealedWorkerBroodAtMs } = state.queen;
  if (releasedAtMs === null || firstEggsAtMs === null || sealedWorkerBroodAtMs !== null) return false;
  const { earliestMs } = sealedBroodWindow(firstEggsAtMs, clock);
  const late = notSealed(state, releasedAtMs).filter(({ atMs }) => atMs >= earliestMs);
  return onceAVisit(late).length >= 2;
}

export const checkSealedBrood: ActRow = {
  kind: 'check-sealed-brood',
  settles: 'whether she is mated',
  draft: (situation) => {
    const { state, nowMs, clock } = situation;
    const releasedMs = outAt(situation);
    if (releasedMs === null) return null;
    const { firstEggsAtMs, sealedWorkerBroodAtMs } = state.queen;
    // Brood that is no mated queen's, seen with it or since, is looked at again.
    const doubted = (state.signs.layingWorkers?.atMs ?? -Infinity) >= (sealedWorkerBroodAtMs ?? Infinity);
    const done =
      sealedWorkerBroodAtMs === null || doubted
        ? undefined
        : doneBy(lookedSince(state, releasedMs).find((one) => one.atMs === sealedWorkerBroodAtMs));
    const nothingToHope = laysDrones(state) || noEggsForTwoWeeks(state) || neverSealed(state, clock);
    if (!done && (over(state) || nothingToHope)) return null;
    // No look found her nor an egg: a test frame tells, and no brood of hers is to be sealed.
    if (!done && firstEggsAtMs === null && searchedEnough(state)) return null;
    const eggsMs = firstEggsAtMs ?? lookFrom(situation, releasedMs).targetMs;
    const window = sealedBroodWindow(eggsMs, clock);
    const missedMs = done ? null : notSealedYetMs(state, releasedMs);
    const isMissed = missedMs !== null && missedMs >= window.earliestMs;
    return {
      done,
      ...fromArrival(situation, window),
      why: ['Worker brood is sealed nine days after the egg: flat cappings prove a mated queen.'],
      ...late(isMissed ? searchAgainWindow(missedMs, clock) : window, nowMs, clock),
    };
  },
  asked: soonFor,
  conditions: lookConditions,
  words: () =>
    visit(
      'Check the sealed brood',
      'looked-for-queen',
      'Is her brood sealed flat, as worker brood is? Domed cappings in worker cells mean a drone layer.',
    ),
  figures: () => ({ earliest: workerSealedDays, best: workerSealedDays, latest: workerSealedDays }),
};

export const graft: ActRow = {
  kind: 'graft',
  settles: 'her first daughters',
  draft: (situation) => {
    const { state } = situation;
    if (over(state) || state.queen.notFoundAtMs.length > 0) return null;
    // Beside a virgin nobody knows which of the two will be left.
    if (rivalSeen(state) || cellEmerged(state)) return null;
    if (afterAcceptance(state).finding !== 'worker-brood') return null;
    if (ofKind(state.facts, 'grafted').length > 0) return null;
    const proved = afterAcceptance(state).milestones.find(({ id }) => id === 'proven-graft');
    return {
      offered: true,
      why: ['Her sealed worker brood proves that she is mated.'],
      ...soon(situation, proved?.atMs),
    };
  },
  conditions: ({ state }) => present([notClosed(state), carriesNothing(state)]),
  words: () =>
    visit('Graft from her', 'grafted', 'Take larvae of 12 to 24 hours from her youngest brood.', [
      'grafting tool',
      'cell bar',
    ]),
};

/** Nothing more is to be hoped of this queen. */
function endOf(state: IntroductionState, clock: Clock): string | null {
  const { queen, signs } = state;
  if (queen.where === 'gone' && flewOffMs(state) === null)
    return 'She is gone: close this introduction, and open another for the next queen.';
  const { releasedAtMs } = queen;
  if (releasedAtMs === null) return null;
  const sign = signs.layingWorkers;
  const proved = queen.sealedWorkerBroodAtMs;
  const stands = sign !== null && disprovedFromMs(state) === null && !eggsInDoubt(state);
  if (stands && sign.atMs >= releasedAtMs && (proved === null || proved < sign.atMs))
    return `${layingSignWords[sign.what]}.`;
  if (queen.notFoundAtMs.length >= searchesBeforeUniting.value)
    return 'Three looks did not find her: some queen or other may be there that nobody can find.';
  if (neverSealed(state, clock))
    return lastOf(notSealed(state, releasedAtMs))?.eggsSeen === false
      ? 'At two looks no worker brood was sealed, and at the last one no egg was left: she is failing.'
      : 'Eggs at two looks, and no worker brood was ever sealed: her brood fails, or two queens are in there.';
  return noEggsForTwoWeeks(state) ? 'No eggs two weeks after she was let out.' : null;
}

/** She is gone, or all bees are: how it ended is logged, and nothing is carried. */
const isWrittenDown = (state: IntroductionState): boolean =>
  state.queen.where === 'gone' || noBeesLeft(state);

/** A queen among the bees that are united meets the other colony’s: she is looked for first, or a test frame tells. */
function noQueenToMeet(state: IntroductionState, nowMs: number): Condition | null {
  const { evidence, queen } = state;
  if (evidence.queenless !== 'contradicted' || queen.releasedAtMs !== null || heldBack(state) === 'unite')
    return null;
  return isWrittenDown(state) ? null : queenlessness(state, nowMs);
}

/** Nobody found the queen that may be among them. */
const queenMayBeAmongThem = (state: IntroductionState): boolean =>
  mayBeOut(state.queen) || state.evidence.queenless === 'contradicted' || heldBack(state) === 'unite';

/** Common practice. */
const howToUnite = (state: IntroductionState): string =>
  queenMayBeAmongThem(state)
    ? 'Look for a queen once more and take her away. If you find none, shake the bees out some metres before a strong colony. Set no box on it: a queen among them would meet its own.'
    : 'Shake the bees out before a strong colony that has its queen, or unite them with it over paper. A queen given to laying workers is killed.';

export const unite: ActRow = {
  kind: 'unite',
  settles: 'how it ended',
  draft: (situation) => {
    const { state, clock } = situation;
    if (state.outcome) return null;
    const why = endOf(state, clock);
    // Frame after frame tells of a queen that nobody finds, and that never laid: nothing else is left.
    const offered = !(heldBack(state) === 'unite' && neverLaid(state));
    return why === null ? null : { offered, why: [why], ...soon(situation) };
  },
  asked: soonFor,
  conditions: ({ state, nowMs }) =>
    present([
      notClosed(state),
      isWrittenDown(state) ? null : carriesNothing(state),
      noQueenToMeet(state, nowMs),
    ]),
  words: ({ state }) =>
    isWrittenDown(state)
      ? atHome(
          'Log how it ended',
          'outcome',
          'Log that she was lost or killed, or that the bees left. What is known of the nuc goes over to the next introduction.',
        )
      : visit(
          'Unite it, or shake it out',
          'outcome',
          `${state.queen.inCageSinceMs === null ? '' : 'Take the caged queen out first, for another nuc. '}${howToUnite(state)}`,
          queenMayBeAmongThem(state) ? ['queen catcher', 'torch', 'brush'] : ['newspaper', 'brush'],
        ),
};
