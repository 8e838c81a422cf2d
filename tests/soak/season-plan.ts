/** Which introductions a season has, when, and what goes wrong in which: every second one is calm. */
import { scenarios } from '../../simulator/scenarios.ts';
import { simulateNuc, type SimulatedNuc } from '../../simulator/index.ts';
import { mildSky } from '../../simulator/demo/demo-plan.ts';
import { simulateWeather, type Weather } from '../../simulator/weather.ts';
import { base, scenarioCases, type Due, type ScenarioCase } from '../scenarios/expectations.ts';

export interface PlannedIntroduction {
  /** Of the nuc, of its queen and of its introduction. */
  readonly key: string;
  readonly slot: number;
  readonly kind: string;
  readonly one: ScenarioCase;
  readonly splitMs: number;
  readonly endMs: number;
}

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const minuteMs = 60_000;
const roundDays = 24;

const caseOf = (scenario: string): ScenarioCase => {
  const found = scenarioCases.find((one) => one.scenario === scenario);
  if (!found) throw new RangeError(`there is no scenario ${scenario}`);
  return found;
};
/** What may be told of the brood once the bees have left. */
const afterwards = (rule: string): Due[] =>
  (['now', 'today', 'next-visit'] as const).map((urgency) => ({
    rule,
    urgency,
    atMost: 20,
    fromDay: 10,
    toDay: 18,
  }));
const slipDay = 4.4;
/** What the probe still sees of the nest once it has slipped. */
const slipShare = 0.25;
const slipped: ScenarioCase = {
  ...caseOf('clean'),
  days: 7,
  expected: [
    {
      rule: 'probe-or-nest',
      urgency: 'next-visit',
      since: { day: slipDay },
      withinH: [0, 6],
      // Where it fell at once and the cage does not tell yet, the bees may just have left.
      worsensTo: 'today',
    },
  ],
};

/** It may go on any of the hands-off days; what is left cannot keep the brood warm, and each finding of that is right. */
const absconded: ScenarioCase = {
  ...caseOf('absconded'),
  days: 18,
  expected: caseOf('absconded').expected.map((one) => ({
    ...one,
    // Gone within three readings, with the brood warm for hours: something was taken out, or bees left together.
    orElse: { rule: 'disturbed-in-hands-off', urgency: 'today', mostMinutes: 15 },
  })),
  due: [
    ...caseOf('absconded').due,
    ...(['brood-chilling', 'chilling-ahead', 'chilling-tonight', 'probe-or-nest'] as const).flatMap(
      afterwards,
    ),
    ...(['colony-failing', 'disturbed-in-hands-off', 'too-weak-to-keep-warm'] as const).flatMap(afterwards),
  ],
};

const calm = ['calm', caseOf('clean')] as const;
const kinds: readonly (readonly [kind: string, one: ScenarioCase])[] = [
  calm,
  ['battery empty', caseOf('battery-low')],
  calm,
  ['probe silent', caseOf('probe-silent')],
  calm,
  ['probe slipped', slipped],
  calm,
  ['cold', caseOf('cold-snap')],
  calm,
  ['absconded', absconded],
];

/** Splits at eight in the morning, in four groups; each device goes to the next nuc when one is done. */
export function planSeason(startMs: number, days: number, slots: number): PlannedIntroduction[] {
  const apart = days < 2 * roundDays ? 1 : 6;
  const firstMs = Math.floor(startMs / dayMs) * dayMs + 8 * hourMs;
  const planned: PlannedIntroduction[] = [];
  for (let slot = 0; slot < slots; slot += 1)
    for (let round = 0; ; round += 1) {
      const [kind = '', one] = kinds[(slot + 3 * round) % kinds.length] ?? [];
      if (!one) throw new RangeError('no such kind');
      const splitMs = firstMs + (1 + apart * (slot % 4) + roundDays * round) * dayMs;
      const endMs = splitMs + one.days * dayMs;
      if (endMs > startMs + (days - 0.5) * dayMs) break;
      planned.push({ key: `nuc-${String(slot)}-${String(round)}`, slot, kind, one, splitMs, endMs });
    }
  return planned;
}

/** The sky over the nucs that do not bring their own: mild, and as warm as in the scenarios. */
export const fieldWeather = (seed: number, startMs: number, days: number): Weather =>
  simulateWeather(seed, base.place, startMs, days * 1440, { ...mildSky, meanC: base.meanC });

export function live(
  planned: PlannedIntroduction,
  seed: number,
  everyMinutes: number,
  weather: Weather,
): SimulatedNuc {
  const { one, splitMs } = planned;
  const { ranges, meanC } = scenarios[one.scenario];
  const own = Object.entries(base.parameters).filter(([name]) => !Object.hasOwn(ranges, name));
  const { meanC: _field, ...others } = base;
  const nuc = simulateNuc({
    ...others,
    ...(meanC ? {} : { weather }),
    ...one.options,
    seed,
    scenario: one.scenario,
    days: one.days,
    splitMs,
    everyMinutes,
    parameters: { ...Object.fromEntries(own), ...one.options?.parameters },
  });
  return planned.kind === 'probe slipped' ? withProbeSlipped(nuc) : nuc;
}

/** The brood probe lies between the box's wall and the bees, after some minutes. */
function withProbeSlipped(nuc: SimulatedNuc): SimulatedNuc {
  const { truth, readings, splitMs } = nuc;
  const slipMs = splitMs + slipDay * dayMs;
  const value = readings.brood.value.map((before, i) => {
    const atMs = readings.brood.takenAtMs[i] ?? 0;
    if (atMs < slipMs) return before;
    const minute = Math.min(truth.minutes - 1, Math.floor((atMs - truth.startMs) / minuteMs));
    const [boxC = 0, nestC = 0] = [truth.boxC[minute], truth.broodC[minute]];
    const left = Math.exp(-(atMs - slipMs) / (8 * minuteMs));
    const now = before * left + (boxC + slipShare * (nestC - boxC)) * (1 - left);
    return Math.round(now * 100) / 100;
  });
  return { ...nuc, readings: { ...readings, brood: { ...readings.brood, value } } };
}
