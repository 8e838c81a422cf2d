/** Signs of brood disease that somebody saw: nothing is carried on from this nuc until the inspector has spoken. */
import { holds } from '../../engine/conditions.ts';
import { dayOf, say } from '../../../words/phrase.ts';
import { decide, defineRule, notApplicable } from '../../engine/rule.ts';

export const broodDisease = defineRule({
  id: 'brood-disease',
  on: 'nuc',
  title: 'Signs of brood disease',
  about: 'Signs of brood disease were logged, and not yet that they are ruled out.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: {},
  sources: ['common practice; which diseases are notifiable, and to whom, is set by local law'],
  evaluate({ introduction }) {
    if (!introduction) return notApplicable('no introduction is open');
    const sinceMs = introduction.diseaseSignsAtMs ?? null;
    return decide({
      conditions: [holds('Signs logged', sinceMs !== null, sinceMs === null ? 'no' : 'yes', 'yes')],
      clear: () => sinceMs === null,
      message: () => ({
        todo: say`Call the bee inspector. Until then move no frames, bees, queens or tools from it to another colony, sell none, and hang no queen in it. This comes before the plan.`,
        seen: sinceMs === null ? say`No signs are logged.` : say`You logged signs on ${dayOf(sinceMs)}.`,
        why: say`Foulbrood travels on frames, tools and robbing bees. Local law says what is reported, and what is done.`,
        howSure: say`It rests on your entry alone: no sensor sees brood disease.`,
        settleBy: say`The inspector or a laboratory. Log “ruled out” when they say so.`,
        facts: [],
      }),
    });
  },
});
