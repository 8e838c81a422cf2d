/** The nuc will have eaten its stores in some days. */
import { atMost } from './conditions.ts';
import { isUnderWay } from './introduction-stage.ts';
import { days, grams, say } from './phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from './rule.ts';

export const storesLow = defineRule({
  id: 'stores-low',
  on: 'nuc',
  title: 'Stores running out',
  about: 'At the present rate the stores last only some days.',
  urgency: 'next-visit',
  holdMin: 360,
  clearHoldMin: 360,
  limits: {
    daysLeft: limit(7, [1, 60], 'd', 'Days of stores left at which it is told'),
    daysLeftToday: limit(2.5, [0, 30], 'd', 'Days of stores left at which it can’t wait'),
    easierDays: limit(9, [1, 90], 'd', 'Days of stores from which it clears'),
  },
  sources: ['weight less box, bees and brood, at this nuc’s own consumption'],
  evaluate({ introduction, signals, nowMs }, { daysLeft, daysLeftToday, easierDays }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    const stores = signals?.stores;
    if (!stores) return noData('no scale stands under this nuc');
    if (!stores.ok) return noData(stores.why);
    const { storesG } = signals;
    return decide({
      conditions: [atMost('Days that the stores last', stores.value, daysLeft, 'd')],
      clear: () => stores.value >= easierDays,
      ...(stores.value <= daysLeftToday && { urgency: 'today' as const }),
      message: () => ({
        todo: say`Feed it in small amounts, at dusk and inside, or hang in a frame of stores from a healthy colony.`,
        byMs: nowMs + Math.max(0, stores.low) * 86_400_000,
        seen: storesG.ok
          ? say`About ${grams(storesG.value)} of stores are left, which last ${days(Math.round(stores.value * 2) / 2)}.`
          : say`The stores last about ${days(Math.round(stores.value * 2) / 2)}.`,
        why: say`A nuc without foragers brings nothing in: hungry bees stop feeding a caged queen.`,
        howSure: say`Between ${days(Math.round(stores.low))} and ${days(Math.round(stores.high))}; the weight of bees, brood and box is an estimate.`,
        settleBy: say`Lift a frame: is there honey along the top?`,
        facts: storesG.ok ? [{ name: 'Stores', ...grams(storesG.value) }] : [],
      }),
      evidence: { place: 'scale', fromMs: nowMs - 5 * 86_400_000, toMs: nowMs },
    });
  },
});
