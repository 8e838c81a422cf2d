/** A queen has been in her cage for longer than is good for her. */
import { atLeast } from '../../engine/conditions.ts';
import { nextStep } from '../introduction-stage.ts';
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
  about: 'Days since the cage was hung with the queen shut in.',
  urgency: 'next-visit',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { days: limit(11, [3, 40], 'd', 'Days in the cage from which it is told') },
  sources: ['common practice: a cage may hang from the split to its opening on day 10'],
  evaluate({ introduction, plan, nowMs }, { days: most }) {
    const since = introduction?.queenCagedSinceMs ?? null;
    if (introduction === null || since === null) return notApplicable('no queen is caged in this nuc');
    const caged = (nowMs - since) / 86_400_000;
    return decide({
      conditions: [atLeast('Days in the cage', caged, most, 'd')],
      clear: () => true,
      message: () => ({
        todo: introduction.mayOpenCandy
          ? todoOf(introduction.mayOpenCandy, nextStep(plan, 'open-candy')?.blockedBy)
          : say`See what the introduction waits for.`,
        seen: say`Caged for ${days(Math.floor(caged))}.`,
        why: say`A queen that can’t lay for weeks shrinks, and lives by what the bees give her through the mesh.`,
        howSure: say`From the log.`,
        settleBy: say`Is she moving well, are her attendants alive, has she food, in the cage or through the mesh?`,
        facts: [{ name: 'In the cage', ...days(Math.floor(caged)) }],
      }),
    });
  },
});
