/** The candy end was opened before the cells were cut, or beside what would kill her: as long as she can't be out, she is shut in again. */
import { candyEatenHours } from '../../../biology/figures.ts';
import { candyHoldsMs } from '../../queen/candy.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import { lastOf, ofKind } from '../../log/effective-facts.ts';
import { oneVisit } from '../../log/looks.ts';
import { notClosed, present } from '../common-conditions.ts';
import { soon, type Situation } from '../situation.ts';
import { cutTwice, outBeforeTheCut } from '../starts.ts';
import { visit } from '../words.ts';
import { noVirgin } from './loose-queen-conditions.ts';

const bites = ({ signs: { atTheCage }, queen: { releasedAtMs } }: IntroductionState): boolean =>
  atTheCage?.what === 'biting' && atTheCage.atMs >= (releasedAtMs ?? Infinity);

/** What is in the box, or may be, and would kill her; null where nothing is known of. */
function wouldKillHer(situation: Situation): string | null {
  const { signs, testFrames, virgin, evidence, queen } = situation.state;
  if (queen.earlierMayBeOut)
    return 'A queen that was let out before may be in the box: one would kill the other.';
  if (signs.layingWorkers) return 'Workers are laying: they kill a queen once she is out.';
  if (evidence.queenless === 'contradicted') return 'A queen may be in the box: one would kill the other.';
  if (virgin.loose === 'seen')
    return 'A virgin was seen, and is not logged as taken away: she would kill her.';
  if (lastOf(testFrames)?.answer === 'still-in')
    return 'A test frame is in: nobody knows yet whether a queen is there.';
  return noVirgin(situation).unmet ? 'A virgin may be loose: she would kill her.' : null;
}

/** The keeper opened it against the answer, and said why. */
const byDecision = ({ facts, queen: { cageHungAtMs, releasedAtMs } }: IntroductionState): boolean =>
  ofKind(facts, 'gate-overridden').some(
    ({ atMs, fact }) =>
      fact.gate === 'open-candy' &&
      atMs >= (cageHungAtMs ?? Infinity) &&
      atMs <= (releasedAtMs ?? -Infinity) + oneVisit,
  );

/** Why she is shut in again; null where nothing stands against her. `sure`: something does, not only one look less, and nobody decided so. */
function whyShut(situation: Situation): { readonly text: string; readonly sure: boolean } | null {
  const { state } = situation;
  if (bites(state))
    return { text: 'The bees bite at the cage: they would kill her once she is out.', sure: true };
  const danger = wouldKillHer(situation);
  const sure = !byDecision(state);
  if (danger !== null) return { text: danger, sure };
  if (outBeforeTheCut(state))
    return {
      text: 'No cut of day 7 or later was made: a virgin from a cell that is left would kill her.',
      sure,
    };
  return cutTwice(state) && !state.looks.second
    ? {
        text: 'The second look was not made yet: it finds most of the cells that the first one missed.',
        sure: false,
      }
    : null;
}

export const closeCandy: ActRow = {
  kind: 'close-candy',
  settles: 'that she waits in her cage until nothing stands against her',
  draft: (situation) => {
    const { state, nowMs } = situation;
    const { releasedAtMs, where, outByAccident, cageEmptyAtMs } = state.queen;
    const behindCandy = where === 'released' && state.setup.method === 'candy-cage' && !outByAccident;
    if (state.outcome || releasedAtMs === null || !behindCandy || cageEmptyAtMs !== null) return null;
    const shut = whyShut(situation);
    if (shut === null) return null;
    const latestMs = candyHoldsMs(releasedAtMs);
    const { earliestMs, targetMs } = soon(situation);
    return nowMs < latestMs
      ? {
          earliestMs,
          targetMs: Math.min(targetMs, latestMs),
          latestMs,
          ...(shut.sure ? {} : { offered: true }),
          why: [shut.text],
        }
      : null;
  },
  conditions: ({ state }) => present([notClosed(state)]),
  words: () =>
    visit(
      'Tape the candy end again',
      'cage-hung',
      'If she is still in, cover her way out with tape and put her back where she was. If she is out, close the nuc and leave it shut.',
      ['tape'],
    ),
  figures: () => ({ latest: candyEatenHours }),
};
