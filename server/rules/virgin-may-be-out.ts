/** Cells were not cut in time: a virgin may be walking the combs. */
import { holds } from './conditions.ts';
import { isBeforeRelease } from './introduction-stage.ts';
import { clock, say } from './phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from './rule.ts';

export const virginMayBeOut = defineRule({
  id: 'virgin-may-be-out',
  on: 'nuc',
  title: 'A virgin may be out',
  about:
    'The first day on which a virgin can emerge is near or past, and no complete cut of cells is logged.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { aheadH: limit(0, [0, 72], 'h', 'How long before the first possible virgin this is told') },
  sources: ['Mussen et al. 1987 (16 days); Fell & Morse 1984 (larval ages); half a day less in a warm nest'],
  evaluate({ introduction, nowMs }, { aheadH }) {
    if (!isBeforeRelease(introduction)) return notApplicable('no queen waits to be released');
    const { firstVirginAtMs, completeCutAtMs } = introduction;
    if (firstVirginAtMs === null) return noData('since when it is queenless is not logged');
    const near = nowMs >= firstVirginAtMs - aheadH * 3_600_000;
    return decide({
      conditions: [
        holds('A virgin can have emerged', near, near ? 'yes' : 'not yet', 'yes'),
        holds(
          'No complete cut is logged',
          completeCutAtMs === null,
          completeCutAtMs === null ? 'none' : 'logged',
          'none',
        ),
      ],
      clear: () => true,
      message: () => ({
        todo: say`Look through every frame with the bees shaken off: opened cells, a small quick queen. Do not open the candy end until that is settled.`,
        seen: say`The first virgin was possible from ${clock(firstVirginAtMs)}, and no complete cut is logged before it.`,
        why: say`Bees with a virgin of their own kill the queen that you release.`,
        howSure: say`A date, not a sighting. The bees tear about half of their emergency cells down again, so that a cell that is gone proves nothing.`,
        settleBy: say`The virgin herself, or a test frame with young larvae: cells on it after a day or two mean that there is no queen.`,
        facts: [],
      }),
    });
  },
});
