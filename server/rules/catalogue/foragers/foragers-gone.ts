/** The foragers have flown back to the parent's stand: the visit that waited for it is worth the drive. */
import { foragersGoneShare } from '../../../biology/figures.ts';
import { atLeast, holds } from '../../engine/conditions.ts';
import { nextStep, waitsForForagers } from '../introduction-stage.ts';
import { asSentence, clock, dayOf, gramsLeft, hours, percent, say } from '../../../words/phrase.ts';
import { counted } from '../../../words/sentence.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

export const foragersGone = defineRule({
  id: 'foragers-gone',
  on: 'nuc',
  title: 'Foragers gone',
  about:
    'Says when the foragers of a split have flown home, judged by the weight that left and the flying weather.',
  urgency: 'next-visit',
  holdMin: 60,
  clearHoldMin: 1440,
  limits: {
    sharePct: limit(
      100 * foragersGoneShare.value,
      [50, 99],
      '%',
      'Share of the foragers that must have left',
    ),
  },
  sources: [
    'computed from the scale and the flying weather; nineteen in twenty, and the wait itself, are common practice',
  ],
  evaluate({ introduction, signals, plan, nowMs }, { sharePct }) {
    if (!waitsForForagers(introduction))
      return notApplicable('no split is waiting for its foragers to leave');
    if (!signals) return notApplicable('no sensor stands under or in this nuc');
    const { drift } = signals;
    const share = drift.completeness.ok ? drift.completeness.value * 100 : null;
    const cut = nextStep(plan, 'cut-cells');
    return decide({
      conditions: [
        holds(
          'State of the drift',
          drift.state === 'cannot-tell' ? null : drift.state === 'gone',
          drift.state,
          'gone',
        ),
        atLeast('Share that has left', share, sharePct, '%'),
      ],
      clear: () => drift.state === 'leaving' || drift.state === 'no-flying-weather',
      message: () => ({
        todo: cut
          ? say`Foragers have left: cut the cells as planned on ${dayOf(cut.targetMs)}.`
          : say`Foragers have left: the next visit can go ahead.`,
        ...(cut && { byMs: cut.latestMs }),
        seen: drift.massG.ok
          ? say`About ${gramsLeft(drift.massG.value)} of bees have left (${gramsLeft(drift.massG.low)} to ${gramsLeft(drift.massG.high)}) in ${counted(drift.flyingDays, 'flying day')}.`
          : say`${hours(drift.flightHours)} of flying weather in ${counted(drift.flyingDays, 'flying day')}; the scale can’t tell.`,
        why: say`Bees that are left are mostly young nurses, and those accept a queen.`,
        howSure:
          drift.completeness.ok && drift.massG.ok
            ? say`${asSentence(drift.why)} Between ${percent(drift.completeness.low)} and ${percent(drift.completeness.high)}; read from the scale, not counted.`
            : asSentence(drift.why),
        settleBy: say`Around noon on a flying day: few bees at the entrance, none coming home with pollen.`,
        facts: [{ name: 'Seen at', ...clock(nowMs) }],
      }),
      ...evidenceOf(drift.sinceMs, nowMs),
    });
  },
});

const evidenceOf = (fromMs: number | null, nowMs: number) =>
  fromMs === null ? {} : { evidence: { place: 'scale' as const, fromMs, toMs: nowMs } };
