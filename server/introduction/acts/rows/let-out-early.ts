/** The candy end was opened before the cells were cut, or bees bite at the cage: as long as she can't be out, she is shut in again. */
import { candyEatenHours } from '../../../biology/figures.ts';
import { candyHoldsMs } from '../../queen/candy.ts';
import type { ActRow } from '../act.ts';
import { notClosed, present } from '../common-conditions.ts';
import { soon } from '../situation.ts';
import { cutTwice, outBeforeTheCut } from '../starts.ts';
import { visit } from '../words.ts';

export const closeCandy: ActRow = {
  kind: 'close-candy',
  settles: 'that she waits in her cage until nothing stands against her',
  draft: (situation) => {
    const { state, nowMs } = situation;
    const { releasedAtMs, where, outByAccident, cageEmptyAtMs } = state.queen;
    const behindCandy = where === 'released' && state.setup.method === 'candy-cage' && !outByAccident;
    if (state.outcome || releasedAtMs === null || !behindCandy || cageEmptyAtMs !== null) return null;
    const uncut = outBeforeTheCut(state);
    const lookedOnce = cutTwice(state) && !state.looks.second;
    const { atTheCage } = state.signs;
    const biting = atTheCage?.what === 'biting' && atTheCage.atMs >= releasedAtMs;
    if (!uncut && !lookedOnce && !biting) return null;
    const latestMs = candyHoldsMs(releasedAtMs);
    const { earliestMs, targetMs } = soon(situation);
    return nowMs < latestMs
      ? {
          earliestMs,
          targetMs: Math.min(targetMs, latestMs),
          latestMs,
          ...(uncut || biting ? {} : { offered: true }),
          why: [
            biting
              ? 'The bees bite at the cage: they would kill her once she is out.'
              : uncut
                ? 'No cut of day 7 or later was made: a virgin from a cell that is left would kill her.'
                : 'The second look was not made yet: it finds most of the cells that the first one missed.',
          ],
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
