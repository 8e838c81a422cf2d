/** So long without a queen that workers may begin to lay. */
import { holds } from '../../engine/conditions.ts';
import { dayMs } from '../../../durations.ts';
import { isBeforeRelease } from '../introduction-stage.ts';
import { layingWorkersLookDays } from '../../../biology/figures.ts';
import { dayOf, say, type Phrase } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

const lookedLately = (lookedMs: number | null | undefined, nowMs: number): boolean =>
  lookedMs != null && nowMs - lookedMs < layingWorkersLookDays.value * dayMs;

function whenBegun(isCaged: boolean, looked: boolean): Phrase {
  if (looked)
    return isCaged
      ? say`The last look found no sign of laying workers: let its queen out once the gate says go.`
      : say`The last look found no sign of laying workers: give it its queen, or a frame with eggs and young larvae.`;
  return isCaged
    ? say`Look for signs of laying workers. Without any, let its queen out once the gate says go; with them, unite it.`
    : say`Look for signs of laying workers. Without any, give it its queen, or a frame with eggs and young larvae; with them, unite it.`;
}

export const layingWorkerDate = defineRule({
  id: 'laying-worker-date',
  on: 'nuc',
  title: 'Workers may begin to lay',
  about: 'Queenless long enough for laying workers.',
  urgency: 'next-visit',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { aheadDays: limit(2, [0, 14], 'd', 'How many days before that date the alert comes') },
  sources: [
    'survey of published reports, weak: watch from day 21 of queenlessness, likely by 28; common practice',
  ],
  evaluate({ introduction, nowMs }, { aheadDays }) {
    if (!isBeforeRelease(introduction)) return notApplicable('no nuc waits for its queen');
    const { layingWorkersWatchMs: watchMs, layingWorkersLikelyMs: likelyMs } = introduction;
    if (introduction.layingWorkersSeen) return notApplicable('signs of laying workers are logged');
    if (watchMs === null) return noData('since when it is queenless is not logged');
    const near = nowMs >= watchMs - aheadDays * dayMs;
    const begun = nowMs >= watchMs;
    const likely = likelyMs !== null && nowMs >= likelyMs;
    const isCaged = introduction.queenCagedSinceMs !== null;
    return decide({
      conditions: [holds('Near the date', near, near ? 'yes' : 'not yet', 'yes')],
      clear: () => true,
      ...(likely && { urgency: 'today' as const }),
      message: () => ({
        ...(introduction.diseaseSignsAtMs != null
          ? {
              todo: say`Look for signs of laying workers. Signs of brood disease are logged: ask the bee inspector what may be done with it.`,
            }
          : introduction.queenMayBeIn && !isCaged
            ? {
                todo: say`A queen may be in it. Find her and take her away, or let a test frame tell, before brood or a queen goes in.`,
              }
            : begun
              ? { todo: whenBegun(isCaged, lookedLately(introduction.lookedForLayingWorkersMs, nowMs)) }
              : isCaged
                ? {
                    todo: say`Let its queen out before ${dayOf(watchMs)}, once the gate says go. No frame with young brood beside her: cells would be started on it.`,
                    byMs: watchMs,
                  }
                : {
                    todo: say`Give it a frame with eggs and young larvae from a healthy colony, or its queen, before ${dayOf(watchMs)}; or unite it.`,
                    byMs: watchMs,
                  }),
        seen: likely
          ? say`Queenless past the day by which laying workers are likely.`
          : begun
            ? say`Queenless past ${dayOf(watchMs)}, the day from which workers with eggs are to be watched for.`
            : say`On ${dayOf(watchMs)} it is queenless long enough for workers to begin.`,
        why: say`Bees with laying workers kill a bought queen almost without exception.`,
        howSure: say`The date is from few published reports and differs between colonies; open brood puts it off.`,
        settleBy: say`Several eggs in a cell, eggs on the walls, drone brood in worker cells.`,
        facts: [],
      }),
    });
  },
});
