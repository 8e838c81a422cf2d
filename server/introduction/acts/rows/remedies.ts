/** What helps a nuc whose queen comes late. */
import { layingWorkersWatchDays, openBroodAheadDays } from '../../../biology/figures.ts';
import { comesMsOf, queenMayBeIn, wantsQueen } from '../days/late-queen.ts';
import type { ActRow } from '../act.ts';
import { begun, notClosed, present } from '../common-conditions.ts';
import { soon, soonFor } from '../situation.ts';
import { visit } from '../words.ts';
import { carriesNothing } from './disease.ts';

const aheadMs = openBroodAheadDays.value * 86_400_000;

export const giveBrood: ActRow = {
  kind: 'give-brood',
  settles: 'that workers do not lay while she is awaited',
  draft: (situation) => {
    const { state, nowMs } = situation;
    const watchMs = state.windows.layingWorkersWatchFromMs;
    // Beside a queen of some kind no worker lays.
    if (queenMayBeIn(state)) return null;
    if (!wantsQueen(state) || state.signs.layingWorkers || watchMs === null || state.day0Ms === null)
      return null;
    const comesMs = comesMsOf(state) ?? Infinity;
    const inTime = comesMs - nowMs >= aheadMs;
    return comesMs > watchMs && inTime && nowMs >= watchMs - aheadMs
      ? {
          offered: true,
          why: [
            'Open brood holds the workers back. Cells can be started from it: cut 7 days later, look again after 10.',
          ],
          ...soon(situation),
        }
      : null;
  },
  asked: soonFor,
  conditions: ({ state, nowMs }) => present([notClosed(state), begun(state, nowMs), carriesNothing(state)]),
  words: () =>
    visit(
      'Give a frame of open brood',
      'brood-frame-added',
      'Give a frame of open brood from a healthy colony, bees shaken off.',
      ['frame of open brood', 'brush'],
    ),
  figures: () => ({ latest: layingWorkersWatchDays }),
};
