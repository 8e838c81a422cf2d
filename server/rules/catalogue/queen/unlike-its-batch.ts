/** One nuc does what the others of its batch do not. */
import { atLeast } from '../../engine/conditions.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { days, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, nothingFound, notApplicable } from '../../engine/rule.ts';

/** Method: fewer nucs make no band. */
const leastNucs = 6;

export const unlikeItsBatch = defineRule({
  id: 'unlike-its-batch',
  on: 'nuc',
  title: 'Unlike its batch',
  about: 'For days one of its figures has been outside of what the rest of the batch shows at the same day.',
  urgency: 'next-visit',
  holdMin: 60,
  clearHoldMin: 1440,
  limits: {
    days: limit(2, [1, 14], 'd', 'Days in a row outside of the band'),
    nucs: limit(leastNucs, [4, 100], '', 'Nucs that a batch needs before it makes a band'),
  },
  sources: ['the batch’s own 10-90 % band'],
  evaluate({ introduction, batch }, { days: least, nucs }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    if (!batch) return notApplicable('it belongs to no batch');
    if (batch.nucs < nucs) return noData(`the batch has ${String(batch.nucs)} nucs to compare with`);
    const [odd] = [...batch.measures].sort((a, b) => b.daysOutside - a.daysOutside);
    if (!odd) return noData('nothing was measured on enough nucs of the batch');
    const outside = atLeast(`${odd.name}: days outside of the batch’s band`, odd.daysOutside, least, 'd');
    if (odd.daysOutside === 0) return nothingFound(outside);
    const value = { value: odd.value, unit: odd.unit };
    return decide({
      conditions: [outside],
      clear: () => false,
      message: () => ({
        todo: say`Look at this one first at the next visit.`,
        seen: say`${odd.name} is ${value}; most of “${batch.name}” lies between ${{ value: odd.low, unit: odd.unit }} and ${{ value: odd.high, unit: odd.unit }} at the same day, for ${days(odd.daysOutside)} now.`,
        why: say`In the same weather and at the same stage, the odd one out has a reason: weaker, opened, a queen that others do not have.`,
        howSure: say`${plain(batch.nucs)} nucs make the band; one in five lies outside of it on any day by chance, hardly ever for days on end.`,
        facts: [{ name: odd.name, ...value }],
      }),
    });
  },
});
