/** The demo farm: nucs at different days of an introduction around *now*, with history and a feed that goes on. */
import { demoFacts, introductionIdOf, type DemoFact } from './demo-log.ts';
import {
  demoDeliveries,
  demoNucs,
  demoParents,
  demoPlace,
  demoSites,
  hiveSensor,
  siteSensor,
  type DemoDelivery,
  type DemoSite,
  type PlannedNuc,
} from './demo-plan.ts';
import { finishedBatch, finishedRun, type FinishedNuc, type FinishedRun } from './demo-finished.ts';
import { siteMessages, simulateFarm, type FarmRun } from './demo-run.ts';
import type { PlaceReadings } from '../sensors/delivery.ts';
import type { Place } from '../sensors/faults.ts';
import type { SimMessage } from '../sending/messages.ts';
import { hourMs, localHour, minuteMs } from '../place.ts';

interface DemoAssignment {
  readonly sensor: string;
  readonly quantity: PlaceReadings['quantity'];
  readonly probe: string;
  /** One of the two. */
  readonly nucKey?: string;
  readonly siteKey?: string;
  readonly place: Place;
  readonly fromMs: number;
  /** Where the sensor was taken away again. */
  readonly toMs?: number;
}

export interface DemoFarm {
  readonly nowMs: number;
  readonly sites: readonly DemoSite[];
  readonly parents: readonly { readonly key: string; readonly name: string; readonly siteKey: string }[];
  readonly nucs: readonly PlannedNuc[];
  /** A batch that is over: its nucs are gone, its records are there. */
  readonly finished: { readonly batch: string; readonly nucs: readonly FinishedNuc[] };
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
  readonly deliveries: readonly DemoDelivery[];
  readonly facts: readonly DemoFact[];
  readonly assignments: readonly DemoAssignment[];
  /** Messages of the past, minutes apart, in order of arrival. */
  readings(): Iterable<SimMessage>;
  /** Messages from an instant on, a minute apart, for ever, in order of arrival. */
  liveFrom(fromMs: number): Iterable<SimMessage>;
}

const aheadDays = 2;

/** Builds the farm as it stands at `nowMs`. The same arguments give the same farm. */
export function buildDemo(nowMs: number, seed: number, timeZone = 'UTC'): DemoFarm {
  const place = demoPlace(nowMs, timeZone);
  const sites = demoSites(place);
  const now = Math.floor(nowMs / minuteMs) * minuteMs;
  const run = simulateFarm(sites, seed, { nowMs: now, fromMs: Number.NEGATIVE_INFINITY, aheadDays });
  const past = finishedRun(sites, seed, now, (weather, everyMinutes) =>
    sites.slice(0, 1).flatMap((site) => siteMessages(site, 0, seed, weather, everyMinutes)),
  );
  const all = [
    ...run.nucs.map(({ nuc, sketch }) => ({ nuc, splitMs: sketch.splitMs })),
    ...past.nucs.map(({ nuc, splitMs }) => ({ nuc, splitMs })),
  ];
  return {
    nowMs: now,
    sites,
    parents: demoParents,
    nucs: demoNucs,
    finished: { batch: finishedBatch, nucs: past.nucs.map(({ nuc }) => nuc) },
    introductions: all.map(({ nuc, splitMs }) => ({
      id: introductionIdOf(nuc),
      nucKey: nuc.key,
      startingPoint: 'planned-split',
      method: 'candy-cage',
      splitMs,
    })),
    queens: all.map(({ nuc, splitMs }) => ({
      ...nuc.queen,
      nucKey: nuc.key,
      expectedMs: localHour(splitMs, 6, 12, place.timeZone),
    })),
    deliveries: demoDeliveries,
    facts: [...run.nucs.flatMap(({ nuc, sketch }) => demoFacts(nuc, sketch, now)), ...past.facts],
    assignments: [
      // The past first: nothing is worked out anew for it.
      ...past.nucs.flatMap(pastAssignments),
      ...sites.flatMap((site) => siteAssignments(site, past.startMs)),
      ...run.nucs.flatMap(({ nuc, sketch }) => nucAssignments(nuc, sketch.splitMs)),
    ],
    readings: () => [...past.history, ...run.history],
    liveFrom: (fromMs) => feed(sites, seed, now, fromMs, run),
  };
}

/** Goes on for ever, two days of simulation at a time. */
function* feed(
  sites: readonly DemoSite[],
  seed: number,
  nowMs: number,
  fromMs: number,
  first: FarmRun,
): Generator<SimMessage, void, undefined> {
  let endMs = first.endMs;
  let ahead = first.ahead;
  for (;;) {
    for (const message of ahead) if (message.atMs >= fromMs) yield message;
    const daysSoFar = Math.ceil((endMs - nowMs) / (24 * hourMs));
    const next = simulateFarm(sites, seed, { nowMs, fromMs: endMs, aheadDays: daysSoFar + aheadDays });
    ({ endMs, ahead } = next);
  }
}

function siteAssignments(site: DemoSite, fromMs: number): DemoAssignment[] {
  const common = { sensor: siteSensor(site), siteKey: site.key, probe: '', fromMs };
  return [
    { ...common, quantity: 'temperature', place: 'outside' },
    { ...common, quantity: 'rain', place: 'rain' },
    { ...common, quantity: 'humidity', place: 'humidity' },
  ];
}

/** The sensors stand in other nucs since. */
const pastAssignments = ({ nuc, splitMs, endMs }: FinishedRun['nucs'][number]): DemoAssignment[] =>
  nucAssignments(nuc, splitMs)
    .filter(({ place }) => place !== 'battery')
    .map((one) => ({ ...one, sensor: nuc.sensor, toMs: endMs }));

function nucAssignments(nuc: PlannedNuc, fromMs: number): DemoAssignment[] {
  const common = { sensor: hiveSensor(nuc), nucKey: nuc.key, fromMs };
  return [
    { ...common, quantity: 'weight', probe: '', place: 'scale' },
    { ...common, quantity: 'temperature', probe: 'brood', place: 'brood' },
    { ...common, quantity: 'temperature', probe: 'cage', place: 'cage' },
    { ...common, quantity: 'battery', probe: '', place: 'battery' },
  ];
}
