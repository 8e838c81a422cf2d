/** The demo farm: nucs at different days of an introduction around *now*, with history and a feed that goes on. */
import { deliver, lineOf, type PlaceReadings } from './delivery.ts';
import { demoFacts, introductionIdOf, type DemoFact } from './demo-log.ts';
import { demoNucs, demoParents, demoPlace, demoSites, type DemoSite, type PlannedNuc } from './demo-plan.ts';
import { messagesOf, type SimMessage } from './messages.ts';
import { simulateNuc, type SimulatedNuc } from './nuc.ts';
import { drawParameters, usualRanges } from './parameters.ts';
import { hourMs, localHour, minuteMs } from './place.ts';
import { humidityPct, outsideProbeC, rainGaugeMm } from './probes.ts';
import { diceOf } from './random.ts';
import { simulateWeather, type Weather } from './weather.ts';

export interface DemoAssignment {
  readonly sensor: string;
  readonly quantity: PlaceReadings['quantity'];
  readonly probe: string;
  /** One of the two. */
  readonly nucKey?: string;
  readonly siteKey?: string;
  readonly place: 'scale' | 'brood' | 'cage' | 'outside';
  readonly fromMs: number;
}

export interface DemoFarm {
  readonly nowMs: number;
  readonly sites: readonly DemoSite[];
  readonly parents: readonly { readonly key: string; readonly name: string; readonly siteKey: string }[];
  readonly nucs: readonly PlannedNuc[];
  readonly introductions: readonly {
    readonly id: string;
    readonly nucKey: string;
    readonly startingPoint: 'planned-split';
    readonly method: 'candy-cage';
    readonly splitMs: number;
  }[];
  readonly queens: readonly {
    readonly key: string;
    readonly mark: string;
    readonly source: string;
    readonly nucKey: string;
    readonly expectedMs: number;
  }[];
  readonly facts: readonly DemoFact[];
  readonly assignments: readonly DemoAssignment[];
  /** Messages of the past, five minutes apart, in order of arrival. */
  readings(): Iterable<SimMessage>;
  /** Messages from an instant on, a minute apart, for ever, in order of arrival. */
  liveFrom(fromMs: number): Iterable<SimMessage>;
}

const longestDays = Math.max(...demoNucs.map((nuc) => nuc.day)) + 1;
const aheadDays = 2;
const historyEveryMin = 5;

/** Builds the farm as it stands at `nowMs`. The same arguments give the same farm. */
export function buildDemo(nowMs: number, seed: number): DemoFarm {
  const place = demoPlace(nowMs);
  const sites = demoSites(place);
  const now = Math.floor(nowMs / minuteMs) * minuteMs;
  const run = simulateFarm(sites, now, seed, aheadDays);
  const planned = demoNucs.map((nuc) => ({ nuc, sim: simulated(run, nuc) }));
  return {
    nowMs: now,
    sites,
    parents: demoParents,
    nucs: demoNucs,
    introductions: planned.map(({ nuc, sim }) => ({
      id: introductionIdOf(nuc),
      nucKey: nuc.key,
      startingPoint: 'planned-split',
      method: 'candy-cage',
      splitMs: sim.splitMs,
    })),
    queens: planned.map(({ nuc, sim }) => ({
      ...nuc.queen,
      nucKey: nuc.key,
      expectedMs: localHour(sim.splitMs, 6, 12, place.timeZone),
    })),
    facts: planned.flatMap(({ nuc, sim }) => demoFacts(nuc, sim, now)),
    assignments: [
      ...sites.map((site) => siteAssignment(site, run.startMs)),
      ...planned.flatMap(({ nuc, sim }) => nucAssignments(nuc, sim.splitMs)),
    ],
    readings: () => run.messages(Number.NEGATIVE_INFINITY, now, historyEveryMin),
    *liveFrom(fromMs) {
      let part = run;
      for (let from = fromMs; ; from = Math.max(from, part.endMs)) {
        // A longer run has the shorter one as its beginning: the feed goes on where it was.
        const daysSoFar = Math.ceil((from - now) / (24 * hourMs));
        if (from >= part.endMs) part = simulateFarm(sites, now, seed, daysSoFar + aheadDays);
        yield* part.messages(from, part.endMs, 1);
      }
    },
  };
}

interface FarmRun {
  readonly startMs: number;
  readonly endMs: number;
  readonly nucs: ReadonlyMap<string, SimulatedNuc>;
  messages(fromMs: number, toMs: number, everyMin: number): SimMessage[];
}

function simulated(run: FarmRun, nuc: PlannedNuc): SimulatedNuc {
  const sim = run.nucs.get(nuc.key);
  if (!sim) throw new Error(`the demo has no run for ${nuc.key}`);
  return sim;
}

function simulateFarm(sites: readonly DemoSite[], nowMs: number, seed: number, aheadDays: number): FarmRun {
  const minutes = (longestDays + aheadDays) * 1440;
  // On the full hour, so that samples fall on round minutes.
  const startMs = Math.floor(nowMs / hourMs - longestDays * 24) * hourMs;
  const nucs = new Map<string, SimulatedNuc>();
  const messages: SimMessage[] = [];
  for (const [index, site] of sites.entries()) {
    const weather = siteWeather(site, index, seed, startMs, minutes, nowMs);
    messages.push(...siteMessages(site, index, seed, weather));
    for (const nuc of demoNucs.filter(({ siteKey }) => siteKey === site.key)) {
      const sim = demoNuc(nuc, site, seed, weather, nowMs, startMs + minutes * minuteMs);
      nucs.set(nuc.key, sim);
      const names = { sensor: hiveSensor(nuc) };
      messages.push(
        ...messagesOf(sim.readings.scale, names),
        ...messagesOf(sim.readings.brood, { ...names, probe: 'brood' }),
        ...messagesOf(sim.readings.cage, { ...names, probe: 'cage' }),
        ...messagesOf(sim.readings.battery, names),
      );
    }
  }
  messages.sort((a, b) => a.atMs - b.atMs);
  return {
    startMs,
    endMs: startMs + minutes * minuteMs,
    nucs,
    messages: (fromMs, toMs, everyMin) => messages.filter(within(fromMs, toMs, everyMin)),
  };
}

/** In [fromMs, toMs), thinned to every so many minutes where a sensor tells each minute. */
const within =
  (fromMs: number, toMs: number, everyMin: number) =>
  ({ atMs, stampedAtMs, quantity }: SimMessage): boolean =>
    atMs >= fromMs &&
    atMs < toMs &&
    (everyMin === 1 ||
      (quantity !== 'weight' && quantity !== 'temperature') ||
      Math.floor(stampedAtMs / minuteMs) % everyMin === 0);

const hiveSensor = (nuc: PlannedNuc): string => `hive-${nuc.key.slice(4)}`;
const siteSensor = (site: DemoSite): string => `sky-${site.key}`;

/** A mild, flying spring; in the hollow a cold front came through yesterday and stays. */
function siteWeather(
  site: DemoSite,
  index: number,
  seed: number,
  startMs: number,
  minutes: number,
  nowMs: number,
): Weather {
  const mild = { warmerC: 0, meanC: 17, frontSdC: 1.2, heatingKPerWm2: 0.016, windMs: 1.5 };
  const cold = { fromMs: nowMs - 10 * hourMs, toMs: nowMs + 60 * hourMs, warmerC: -11, overcast: true };
  const sky = { ...mild, cloudiness: 0.3, showersPerDay: 1 };
  const spells = site.key === 'hollow' ? [cold] : [];
  return simulateWeather(seed * 31 + index, site, startMs, minutes, sky, spells);
}

function demoNuc(
  nuc: PlannedNuc,
  site: DemoSite,
  seed: number,
  weather: Weather,
  nowMs: number,
  endMs: number,
): SimulatedNuc {
  const splitMs = localHour(nowMs, -nuc.day, 10.5, site.timeZone);
  return simulateNuc({
    ...nuc.model,
    seed: seed * 101 + Number(nuc.key.slice(4)),
    place: site,
    splitMs,
    days: (endMs - splitMs) / (24 * hourMs),
    weather,
    everyMinutes: 1,
    // Today's visits are for whoever tries the demo.
    visitsUntilMs: localHour(nowMs, 0, 0, site.timeZone),
    introduction: { look: nuc.day >= 20 ? [17, 23] : [] },
    parameters: { ...quietDelivery, nectarFlow: 0.3, storesG: 4000, tareG: 5200, ...nuc.model.parameters },
  });
}

/** Few gaps and no wrong clocks: the demo's one failing sensor is the one to look at. */
const quietDelivery = { gapShare: 0.004, duplicateShare: 0, lateBatchesPerDay: 0, wrongClocksPerDay: 0 };

function siteMessages(site: DemoSite, index: number, seed: number, weather: Weather): SimMessage[] {
  const p = drawParameters(diceOf(seed, `site ${site.key}`), usualRanges, {
    ...quietDelivery,
    outsideSunC: 1.5,
  });
  const siteSeed = seed * 31 + index;
  const { startMs, minutes } = weather;
  const line = lineOf(siteSeed, 'site', p, startMs, minutes, []);
  const common = {
    everyMinutes: historyEveryMin,
    offsetMin: 0,
    offsetMs: 21_000,
    faults: [],
    goneFromMin: Infinity,
  };
  const take = (
    what: Pick<PlaceReadings, 'place' | 'quantity' | 'unit'>,
    values: Float64Array,
    summed = false,
  ): SimMessage[] =>
    messagesOf(deliver(siteSeed, { ...what, ...common, summed }, values, line, startMs), {
      sensor: siteSensor(site),
    });
  return [
    ...take({ place: 'outside', quantity: 'temperature', unit: 'Cel' }, outsideProbeC(siteSeed, p, weather)),
    ...take({ place: 'rain', quantity: 'rain', unit: 'mm' }, rainGaugeMm(weather), true),
    ...take({ place: 'humidity', quantity: 'humidity', unit: '%RH' }, humidityPct(siteSeed, weather)),
  ];
}

const siteAssignment = (site: DemoSite, fromMs: number): DemoAssignment => ({
  sensor: siteSensor(site),
  quantity: 'temperature',
  probe: '',
  siteKey: site.key,
  place: 'outside',
  fromMs,
});

function nucAssignments(nuc: PlannedNuc, fromMs: number): DemoAssignment[] {
  const common = { sensor: hiveSensor(nuc), nucKey: nuc.key, fromMs };
  return [
    { ...common, quantity: 'weight', probe: '', place: 'scale' },
    { ...common, quantity: 'temperature', probe: 'brood', place: 'brood' },
    { ...common, quantity: 'temperature', probe: 'cage', place: 'cage' },
  ];
}
