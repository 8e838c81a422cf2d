/** The nuc will have eaten its stores in some days. */
import {
  storesEnoughDays,
  storesTellDays,
  storesUrgentDays,
  storesLeastG,
} from '../../../biology/figures.ts';
import { atMost } from '../../engine/conditions.ts';
import { isUnderWay, staysShut } from '../introduction-stage.ts';
import type { StageFacts } from '../../engine/inputs.ts';
import { days, grams, say } from '../../../words/phrase.ts';
import type { Estimate } from '../../../signals/types.ts';
import type { Evaluation } from '../../engine/types.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

/** Method: a box that lay beside its scale spoils so many hours of nights. */
const offHours = 48;
/** Method: half more than the limit, and it is over. */
const easier = 1.5;

/** To half days, value and ends alike: else the value may lie outside of its own interval. */
const halves = (value: number) => days(Math.round(value * 2) / 2);

const feeding = (introduction: StageFacts | null) =>
  staysShut(introduction)
    ? say`Feed from above at dusk: fondant or a feeder over the bees, no frame lifted. The queen has just been let out.`
    : say`Feed it in small amounts, at dusk and inside, or hang in a frame of stores from a healthy colony.`;

const lifted = (introduction: StageFacts | null) =>
  staysShut(introduction)
    ? say`Lift the box at one side: is it light?`
    : say`Lift a frame: is there honey along the top?`;

export const storesLow = defineRule({
  id: 'stores-low',
  on: 'nuc',
  title: 'Stores running out',
  about: 'At the present rate the stores last only some days.',
  urgency: 'next-visit',
  holdMin: 360,
  clearHoldMin: 360,
  limits: {
    daysLeft: limit(storesTellDays.value, [1, 60], 'd', 'Days of stores left at which the alert comes'),
    daysLeftToday: limit(storesUrgentDays.value, [0, 30], 'd', 'Days of stores left at which it can’t wait'),
    leastG: limit(
      storesLeastG.value,
      [0, 5000],
      'g',
      'Stores at which the alert comes while the daily rate is not known yet',
    ),
    easierDays: limit(storesEnoughDays.value, [1, 90], 'd', 'Days of stores from which it clears'),
  },
  sources: ['weight less box, bees and brood, at this nuc’s own consumption'],
  evaluate({ introduction, signals, nowMs }, { daysLeft, daysLeftToday, leastG, easierDays }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    const stores = signals?.stores;
    if (!stores) return noData('no scale stands under this nuc');
    const { storesG } = signals;
    const off = signals.steps.some(
      ({ kind, atMs }) => (kind === 'toppled' || kind === 'gone') && nowMs - atMs < offHours * 3_600_000,
    );
    if (!stores.ok && off) return noData('the box lay beside its scale within the last two nights');
    if (!stores.ok)
      return storesG.ok && !signals.consumptionGPerDay.ok
        ? byWeightAlone(storesG, leastG, nowMs, introduction)
        : noData(stores.why);
    return decide({
      conditions: [atMost('Days that the stores last', stores.value, daysLeft, 'd')],
      clear: () => stores.value >= easierDays,
      ...(stores.value <= daysLeftToday && { urgency: 'today' as const }),
      message: () => ({
        todo: feeding(introduction),
        byMs: nowMs + Math.max(0, stores.low) * 86_400_000,
        seen: storesG.ok
          ? say`About ${grams(storesG.value)} of stores are left, which last ${halves(stores.value)}.`
          : say`The stores last about ${halves(stores.value)}.`,
        why: say`A nuc without foragers brings nothing in: hungry bees stop feeding a caged queen.`,
        howSure: say`Between ${halves(stores.low)} and ${halves(stores.high)}; the weight of bees, brood and box is an estimate.`,
        settleBy: lifted(introduction),
        facts: storesG.ok ? [{ name: 'Stores', ...grams(storesG.value) }] : [],
      }),
      evidence: { place: 'scale', fromMs: nowMs - 5 * 86_400_000, toMs: nowMs },
    });
  },
});

/** A rate takes three quiet nights; a nuc that was made up with next to no stores has starved by then. */
function byWeightAlone(
  { value, low, high }: Sure,
  leastG: number,
  nowMs: number,
  introduction: StageFacts | null,
): Evaluation {
  return decide({
    conditions: [atMost('Stores by weight', value, leastG, 'g')],
    clear: () => value >= easier * leastG,
    urgency: 'today',
    message: () => ({
      todo: feeding(introduction),
      seen: say`About ${grams(value)} of stores are left; how fast they go is not known yet.`,
      why: say`A nuc without foragers brings nothing in: hungry bees let the brood go cold and stop feeding a caged queen.`,
      howSure: say`Between ${grams(low)} and ${grams(high)}: the scale less what box, bees and brood are thought to weigh.`,
      settleBy: lifted(introduction),
      facts: [{ name: 'Stores', ...grams(value) }],
    }),
    evidence: { place: 'scale', fromMs: nowMs - 5 * 86_400_000, toMs: nowMs },
  });
}

type Sure = Extract<Estimate, { ok: true }>;
