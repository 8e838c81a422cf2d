/** The disk is filling up, or is full: readings will be refused. */
import { atMost, holds } from '../../engine/conditions.ts';
import { clock, days, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, nothingFound } from '../../engine/rule.ts';

/** Setting: a fifth more than the limit, and it is over. */
const easier = 1.2;

export const diskFilling = defineRule({
  id: 'disk-filling',
  on: 'server',
  title: 'Disk filling up',
  about: 'Free space is small, will be used up within days, or the store already refuses to write.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 10,
  limits: {
    freeMB: limit(300, [20, 100_000], 'MB', 'Free space at which the alert comes'),
    daysLeft: limit(14, [1, 365], 'd', 'Days until it is full at the present rate'),
  },
  sources: ['common practice'],
  evaluate({ disk }, { freeMB, daysLeft }) {
    if (!disk) return noData('the free space is not known');
    const { freeMB: free, writtenPerDayMB: rate, refusingSinceMs, refusingWhy } = disk;
    const left = rate === null || rate <= 0 ? Infinity : free / rate;
    const refusing = holds(
      'The store refuses to write',
      refusingSinceMs !== null,
      refusingSinceMs === null ? 'no' : 'yes',
      'yes',
    );
    const low = atMost('Free', free, freeMB, 'MB');
    const soon = atMost('Days until full', Number.isFinite(left) ? left : null, daysLeft, 'd');
    const found = [refusing, low, soon].find(({ met }) => met);
    if (!found) return { ...nothingFound(refusing, low, soon), clear: free > easier * freeMB };
    return decide({
      conditions: [found],
      clear: () => false,
      ...(refusingSinceMs !== null && { urgency: 'now' as const }),
      message: () => ({
        todo:
          refusingSinceMs !== null && typeof refusingWhy === 'string'
            ? say`${refusingWhy}`
            : say`Free some space on the disk of the data folder, or move old backups away.`,
        seen:
          refusingSinceMs === null
            ? say`${{ value: free, unit: 'MB' }} free${Number.isFinite(left) ? say`, enough for ${days(Math.floor(left))}` : ''}.`
            : say`Nothing could be stored since ${clock(refusingSinceMs)}; sensors keep what they can.`,
        why: say`What can’t be stored is not acknowledged: some sensors send it again, others lose it.`,
        howSure: say`Certain.`,
        facts: [{ name: 'Free', value: free, unit: 'MB' as const }],
      }),
    });
  },
});
