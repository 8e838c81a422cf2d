/** A cut is near and the foragers are still on their way: it can wait a flying day. */
import { atMost, holds } from '../../engine/conditions.ts';
import { nextStep, waitsForForagers } from '../introduction-stage.ts';
import { asSentence, dayOf, hours, percent, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

export const foragersLeaving = defineRule({
  id: 'foragers-leaving',
  on: 'nuc',
  title: 'Foragers still leaving',
  about: 'Says so when a cut of cells is near while the foragers are still flying home.',
  urgency: 'next-visit',
  holdMin: 60,
  clearHoldMin: 60,
  limits: { beforeCutH: limit(24, [0, 96], 'h', 'How long before the planned cut the alert comes') },
  sources: ['computed from the scale and the flying weather; the wait itself is common practice'],
  evaluate({ introduction, signals, plan, nowMs }, { beforeCutH }) {
    const cut = nextStep(plan, 'cut-cells');
    if (!waitsForForagers(introduction) || !cut) return notApplicable('no cut of cells is planned');
    if (!signals) return notApplicable('no sensor stands under or in this nuc');
    const { drift } = signals;
    const untilCutH = (cut.targetMs - nowMs) / 3_600_000;
    return decide({
      conditions: [
        holds(
          'State of the drift',
          drift.state === 'cannot-tell' ? null : drift.state === 'leaving',
          drift.state,
          'leaving',
        ),
        atMost('Time to the planned cut', untilCutH, beforeCutH, 'h'),
      ],
      clear: () => drift.state !== 'nearly-gone' || untilCutH > beforeCutH,
      message: () => ({
        todo: say`Wait with the cut of ${dayOf(cut.targetMs)} for another flying day if the dates allow it. It has to be done by ${dayOf(cut.latestMs)}.`,
        byMs: cut.latestMs,
        seen: drift.completeness.ok
          ? say`So far ${percent(drift.completeness.value)} of the foragers have left (${percent(drift.completeness.low)} to ${percent(drift.completeness.high)}).`
          : say`There was too little flying weather since the move.`,
        why: say`Old bees that are still at home make the cut harder and the queen less welcome.`,
        howSure: drift.massG.ok
          ? say`${asSentence(drift.why)} Read from the scale, not counted.`
          : asSentence(drift.why),
        settleBy: say`Around noon on a flying day: bees that leave and do not come back.`,
        facts: [{ name: 'Hours of flying weather since the move', ...hours(drift.flightHours) }],
      }),
    });
  },
});
