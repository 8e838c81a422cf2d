/** A queen has been in her cage for longer than is good for her. */
import { cageTimeDays, highEnd, lowEnd } from '../../../biology/figures.ts';
import { atLeast } from '../../engine/conditions.ts';
import { isUnderWay, nextStep } from '../introduction-stage.ts';
import { days, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

/** What to do, by the answer to "may she be let out", with what stands against it where the plan names it. */
function todoOf(answer: 'go' | 'wait' | 'stop', blockedBy: string | undefined) {
  const why = blockedBy === undefined ? say`` : say` (${blockedBy})`;
  if (answer === 'go') return say`The gate says go: let her out.`;
  return answer === 'wait'
    ? say`The gate still says wait${why}: see what it waits for, and whether she is fed through the mesh.`
    : say`The gate says stop${why}: settle its reason, or give her to another nuc.`;
}

export const cageTooLong = defineRule({
  id: 'cage-too-long',
  on: 'nuc',
  title: 'Queen long in her cage',
  about: 'Days in her cage, those before she came included where they are logged.',
  urgency: 'next-visit',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { days: limit(highEnd(cageTimeDays), [3, 40], 'd', 'Days in the cage from which the alert comes') },
  sources: [
    `${cageTimeDays.source}: ${cageTimeDays.note ?? ''}, ${String(lowEnd(cageTimeDays))} to ${String(highEnd(cageTimeDays))} days`,
  ],
  evaluate({ introduction, plan, nowMs }, { days: most }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    const since = introduction.queenCagedSinceMs;
    if (since === null) return notApplicable('no queen is caged in this nuc');
    const inPost = introduction.daysInPost ?? 0;
    const caged = (nowMs - (introduction.queenArrivedMs ?? since)) / 86_400_000 + inPost;
    return decide({
      conditions: [atLeast('Days in the cage', caged, most, 'd')],
      clear: () => true,
      message: () => ({
        todo: introduction.mayOpenCandy
          ? todoOf(introduction.mayOpenCandy, nextStep(plan, 'open-candy')?.blockedBy)
          : say`See what the introduction waits for.`,
        seen: say`Caged for ${days(Math.floor(caged))}.`,
        why: say`A queen that can’t lay for weeks shrinks, and lives by what the bees give her through the mesh.`,
        howSure:
          introduction.daysInPost === undefined
            ? say`From the log; her days in the post come on top, nobody logged them.`
            : say`From the log, with ${days(inPost)} before she came.`,
        settleBy: say`Is she moving well, are her attendants alive, has she food, in the cage or through the mesh?`,
        facts: [{ name: 'In the cage', ...days(Math.floor(caged)) }],
      }),
    });
  },
});
