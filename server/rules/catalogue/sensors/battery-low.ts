/** A sensor's battery is nearly empty, or will be before long. */
import { atMost } from '../../engine/conditions.ts';
import { days, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, nothingFound, notApplicable } from '../../engine/rule.ts';

/** Setting: charged by so much more, and it is over. */
const easierPct = 10;

export const batteryLow = defineRule({
  id: 'battery-low',
  on: 'device',
  title: 'Battery low',
  about: 'A sensor’s battery is nearly empty, or will be within days at its present rate.',
  urgency: 'next-visit',
  holdMin: 120,
  clearHoldMin: 120,
  limits: {
    percent: limit(15, [1, 90], '%', 'Charge at which the alert comes'),
    daysLeft: limit(10, [1, 90], 'd', 'Days left at its present rate at which the alert comes'),
    todayPct: limit(4, [0, 50], '%', 'Charge at which it can’t wait'),
  },
  sources: ['common practice'],
  evaluate({ channels }, { percent, daysLeft, todayPct }) {
    const telling = channels.find(({ health }) => health.place !== null && health.batteryPercent !== null);
    const { batteryPercent: charge = null, batteryPercentPerDay: rate = null } = telling?.health ?? {};
    if (charge === null) return notApplicable('it tells nothing about a battery');
    const left = rate === null || rate >= 0 ? Infinity : charge / -rate;
    const low = atMost('Charge', charge, percent, '%');
    const soon = atMost('Days left at its rate', Number.isFinite(left) ? left : null, daysLeft, 'd');
    if (!low.met && !soon.met) return { ...nothingFound(low, soon), clear: charge >= percent + easierPct };
    return decide({
      conditions: [low.met ? low : soon],
      clear: () => false,
      ...(charge <= todayPct && { urgency: 'today' as const }),
      message: () => ({
        todo: say`Take a charged battery along to the next visit.`,
        seen: Number.isFinite(left)
          ? say`${plain(Math.round(charge))} % left, about ${days(Math.max(0, Math.floor(left)))} at its present rate.`
          : say`${plain(Math.round(charge))} % left.`,
        why: say`When it is empty nothing here can warn you any more.`,
        howSure: say`As the sensor tells it; cold lowers the reading.`,
        facts: [{ name: 'Charge', value: charge, unit: '%' as const }],
      }),
    });
  },
});
