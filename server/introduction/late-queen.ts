/** How long a nuc can wait for its queen, what ends the wait, and what would make it longer. */
import { framesForIntroduction, layingWorkersWatchDays, lowEnd } from '../biology/figures.ts';
import { framesCovered, type NucProjection } from '../biology/nuc-population.ts';
import { addDays } from './calendar.ts';
import type { IntroductionState } from './state.ts';

export interface CanWait {
  readonly untilMs: number;
  readonly because: 'laying-workers' | 'too-few-bees';
  readonly text: string;
}

/** Null before the split and where nothing tells since when the nuc is queenless. */
export function canWait(state: IntroductionState, projection: NucProjection | null): CanWait | null {
  const workersMs = state.windows.layingWorkersWatchFromMs;
  if (workersMs === null || state.day0Ms === null) return null;
  const least = lowEnd(framesForIntroduction);
  const today = state.dayNumber ?? 0;
  const weak = projection?.days.find(({ day, bees }) => day >= today && framesCovered(bees) < least);
  const weakMs = weak ? addDays(state.day0Ms, weak.day, state.setup.timeZone) : Infinity;
  const mend =
    'A frame of open brood from a healthy colony makes it longer, and starts the waiting for cells again.';
  return weakMs < workersMs
    ? {
        untilMs: weakMs,
        because: 'too-few-bees',
        text: `Until day ${String(weak?.day ?? today)}: then fewer than ${String(least)} frames of bees are left to keep her warm. ${mend}`,
      }
    : {
        untilMs: workersMs,
        because: 'laying-workers',
        text: `Until ${String(layingWorkersWatchDays.value)} days without a queen: from then on workers may lay. ${mend}`,
      };
}
