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
import { simulateFarm, type FarmRun } from './demo-run.ts';
import type { PlaceReadings } from './delivery.ts';
import type { Place } from './faults.ts';
import type { SimMessage } from './messages.ts';
import { hourMs, localHour, minuteMs } from './place.ts';

interface DemoAssignment {
  readonly sensor: string;
  readonly quantity: PlaceReadings['quantity'];
  readonly probe: string;
  /** One of the two. */
  readonly nucKey?: string;
  readonly siteKey?: string;
  readonly place: Place;
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
  readonly deliveries: readonly DemoDelivery[];
  readonly facts: readonly DemoFact[];
  readonly assignments: readonly DemoAssignment[];
  /** Messages of the past, five minutes apart, in order of arrival. */
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
  return {
    nowMs: now,
    sites,
    parents: demoParents,
    nucs: demoNucs,
    introductions: run.nucs.map(({ nuc, sketch }) => ({
      id: introductionIdOf(nuc),
      nucKey: nuc.key,
      startingPoint: 'planned-split',
      method: 'candy-cage',
      splitMs: sketch.splitMs,
    })),
    queens: run.nucs.map(({ nuc, sketch }) => ({
      ...nuc.queen,
      nucKey: nuc.key,
      expectedMs: localHour(sketch.splitMs, 6, 12, place.timeZone),
    })),
    deliveries: demoDeliveries,
    facts: run.nucs.flatMap(({ nuc, sketch }) => demoFacts(nuc, sketch, now)),
    assignments: [
      ...sites.flatMap((site) => siteAssignments(site, run.startMs)),
      ...run.nucs.flatMap(({ nuc, sketch }) => nucAssignments(nuc, sketch.splitMs)),
    ],
    readings: () => run.history,
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

function nucAssignments(nuc: PlannedNuc, fromMs: number): DemoAssignment[] {
  const common = { sensor: hiveSensor(nuc), nucKey: nuc.key, fromMs };
  return [
    { ...common, quantity: 'weight', probe: '', place: 'scale' },
    { ...common, quantity: 'temperature', probe: 'brood', place: 'brood' },
    { ...common, quantity: 'temperature', probe: 'cage', place: 'cage' },
    { ...common, quantity: 'battery', probe: '', place: 'battery' },
  ];
}
