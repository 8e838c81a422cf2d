/**
 * A batch of the demo that is over, for looking back: eight nucs split on one day, six queens accepted, one nuc absconded,
 * one queen killed by a virgin of a cell that was missed. Their sensors have stood in other nucs since.
 */
import { demoFacts, introductionIdOf, type DemoFact } from './demo-log.ts';
import { mildSky, quietDelivery, type DemoSite, type PlannedNuc } from './demo-plan.ts';
import { messagesOf, type SimMessage } from '../sending/messages.ts';
import { simulateNuc, type SimulatedNuc } from '../nuc.ts';
import { hourMs, localHour } from '../place.ts';
import { simulateWeather, type Weather } from '../weather.ts';

export interface FinishedNuc extends PlannedNuc {
  /** The device that stood in it. */
  readonly sensor: string;
  /** Day after the split on which its outcome was known and its sensors were taken away. */
  readonly lastDay: number;
  readonly outcome: 'accepted' | 'queen-killed' | 'absconded';
  /** Days after the split on which larvae of its queen were grafted. */
  readonly graftedOnDays: readonly number[];
}

export const finishedBatch = 'Spring batch';
const siteKey = 'orchard';
/** Calendar days since its splits. */
const splitDaysAgo = 56;
const longestDays = 27;
/** Often enough to read the weight of a night, and quickly sent. */
const everyMinutes = 20;

const nuc = (
  n: number,
  sensor: string,
  line: 'Thorn' | 'Willow',
  framesOfBees: number,
  course: Pick<FinishedNuc, 'outcome' | 'lastDay' | 'graftedOnDays'>,
): FinishedNuc => ({
  key: `nuc-${String(n)}`,
  name: `Nuc ${String(n)}`,
  siteKey,
  parentKey: n % 2 === 0 ? 'stand-a' : 'stand-b',
  day: splitDaysAgo,
  queen: { key: `${line}-${String(n)}`, mark: `Line ${line} ${String(n)}`, source: `Line ${line}` },
  shows: `a finished introduction: ${course.outcome}`,
  model: {
    ...(course.outcome === 'accepted' ? {} : { scenario: scenarioOf[course.outcome] }),
    parameters: {
      framesOfBees,
      framesOfSealedBrood: 1,
      framesOfOpenBrood: 0.75,
      heatWPerBee: 0.005,
    },
  },
  sensor,
  ...course,
});
const scenarioOf = { 'queen-killed': 'missed-cell', absconded: 'absconded' } as const;
const accepted = (...graftedOnDays: number[]) =>
  ({ outcome: 'accepted', lastDay: longestDays, graftedOnDays }) as const;

const finishedNucs: readonly FinishedNuc[] = [
  nuc(31, 'hive-21', 'Thorn', 3.25, accepted(33)),
  nuc(32, 'hive-19', 'Willow', 3, accepted(30)),
  nuc(33, 'hive-17', 'Thorn', 3.25, { outcome: 'queen-killed', lastDay: 24, graftedOnDays: [] }),
  nuc(34, 'hive-16', 'Willow', 3.5, accepted(30, 40)),
  nuc(35, 'hive-14', 'Thorn', 2.75, accepted()),
  nuc(36, 'hive-15', 'Willow', 3, { outcome: 'absconded', lastDay: 17, graftedOnDays: [] }),
  nuc(37, 'hive-11', 'Thorn', 3.25, accepted(33)),
  nuc(38, 'hive-08', 'Willow', 3, accepted()),
];

export interface FinishedRun {
  readonly startMs: number;
  readonly nucs: readonly {
    readonly nuc: FinishedNuc;
    readonly splitMs: number;
    readonly endMs: number;
  }[];
  readonly facts: readonly DemoFact[];
  /** In order of arrival. */
  readonly history: readonly SimMessage[];
}

/** `outside` makes the messages of the site's own sensor. */
export function finishedRun(
  sites: readonly DemoSite[],
  seed: number,
  nowMs: number,
  outside: (weather: Weather, everyMinutes: number) => readonly SimMessage[],
): FinishedRun {
  const site = sites.find(({ key }) => key === siteKey);
  if (!site) throw new Error(`the demo has no site ${siteKey}`);
  const startMs = Math.floor(nowMs / hourMs - (splitDaysAgo + 1) * 24) * hourMs;
  const weather = simulateWeather(seed * 31 + 7, site, startMs, (longestDays + 2) * 1440, mildSky, []);
  // One after the other, so that the minutes of each are let go.
  const runs = finishedNucs.map((one) => {
    const sim = simulate(one, site, seed, weather, nowMs);
    const sent = sentBy(one, sim);
    return { nuc: one, splitMs: sim.splitMs, endMs: endOf(one, sim), sent, facts: logOf(one, sim, nowMs) };
  });
  const sent = [...outside(weather, everyMinutes), ...runs.flatMap((run) => run.sent)];
  return {
    startMs,
    nucs: runs.map(({ nuc: one, splitMs, endMs }) => ({ nuc: one, splitMs, endMs })),
    facts: runs.flatMap(({ facts }) => facts),
    history: sent.sort((a, b) => a.atMs - b.atMs),
  };
}

/** In the evening of its last day. */
const endOf = ({ lastDay }: FinishedNuc, { splitMs, place }: SimulatedNuc): number =>
  localHour(splitMs, lastDay, 18, place.timeZone);

function simulate(
  nuc: FinishedNuc,
  site: DemoSite,
  seed: number,
  weather: Weather,
  nowMs: number,
): SimulatedNuc {
  return simulateNuc({
    ...nuc.model,
    seed: seed * 101 + Number(nuc.key.slice(4)),
    place: site,
    splitMs: localHour(nowMs, -splitDaysAgo, 10.5, site.timeZone),
    days: longestDays + 0.5,
    weather,
    everyMinutes,
    introduction: { look: [17, 24].filter((day) => day <= nuc.lastDay) },
    parameters: { ...quietDelivery, nectarFlow: 0.3, storesG: 4000, tareG: 5200, ...nuc.model.parameters },
  });
}

function sentBy(nuc: FinishedNuc, sim: SimulatedNuc): SimMessage[] {
  const { sensor } = nuc;
  const { scale, brood, cage } = sim.readings;
  return [
    ...messagesOf(scale, { sensor }),
    ...messagesOf(brood, { sensor, probe: 'brood' }),
    ...messagesOf(cage, { sensor, probe: 'cage' }),
  ].filter(({ atMs }) => atMs < endOf(nuc, sim));
}

/** Every visit with what was seen, the outcome after the last of them, and the grafts. */
function logOf(nuc: FinishedNuc, sim: SimulatedNuc, nowMs: number): DemoFact[] {
  const { splitMs, place } = sim;
  const facts = demoFacts({ ...nuc, day: 0 }, sim, nowMs);
  const write = (happenedAtMs: number, fact: DemoFact['fact'], note?: string): void => {
    facts.push({
      id: `demo-fact-${nuc.key}-${String(facts.length + 1).padStart(2, '0')}`,
      introductionId: introductionIdOf(nuc),
      happenedAtMs,
      writtenAtMs: happenedAtMs,
      by: 'demo keeper',
      ...(note === undefined ? {} : { note }),
      type: 'fact',
      fact,
    });
  };
  write(endOf(nuc, sim) - hourMs, { kind: 'outcome', outcome: nuc.outcome }, whyLost[nuc.outcome]);
  for (const day of nuc.graftedOnDays)
    write(localHour(splitMs, day, 11, place.timeZone), { kind: 'grafted', larvae: 20 });
  return facts;
}

const whyLost: Partial<Record<FinishedNuc['outcome'], string>> = {
  'queen-killed':
    'A hatched cell on the third frame, a virgin on the comb; bees united with the nuc beside it.',
  absconded: 'Box nearly empty, stores untouched.',
};
