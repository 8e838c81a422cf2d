/** Runs the demo's nucs under the weather of their sites and gathers what their sensors tell in a window of time. */
import { deliver, connectionOf, type PlaceReadings } from '../sensors/delivery.ts';
import {
  demoNucs,
  hiveSensor,
  mildSky,
  quietDelivery,
  siteSensor,
  type DemoSite,
  type PlannedNuc,
} from './demo-plan.ts';
import { messagesOf, type SimMessage } from '../sending/messages.ts';
import { simulateNuc, type SimulatedNuc } from '../nuc.ts';
import { drawParameters, usualRanges } from '../parameters.ts';
import { hourMs, localHour, minuteMs } from '../place.ts';
import { humidityPct, outsideProbeC, rainGaugeMm } from '../sensors/probes.ts';
import { rngFor } from '../random.ts';
import { simulateWeather, type Weather } from '../weather.ts';

const dayMs = 24 * hourMs;
const longestDays = Math.max(...demoNucs.map((nuc) => nuc.day)) + 1;
/** Of what is sent at the start: finer in the last days, later on as fine as days are read in the end. */
const historyEveryMin = 5;
const olderEveryMin = 10;
const olderAfterMs = 3 * dayMs;
const siteEveryMin = 10;

/** What the log needs to know of a nuc's run; the minute arrays are let go. */
export type NucSketch = Pick<SimulatedNuc, 'splitMs' | 'timeline' | 'parameters' | 'introduction'>;

export interface FarmRun {
  readonly startMs: number;
  readonly endMs: number;
  readonly nucs: readonly { readonly nuc: PlannedNuc; readonly sketch: NucSketch }[];
  /** Before now, five or ten minutes apart, in order of arrival. */
  readonly history: readonly SimMessage[];
  /** From `fromMs` to the end of the run, a minute apart, in order of arrival. */
  readonly ahead: readonly SimMessage[];
}

export interface FarmWindow {
  readonly nowMs: number;
  /** Messages are kept from here on, and thinned before now. */
  readonly fromMs: number;
  readonly aheadDays: number;
}

/** A run with more days ahead begins with the one with fewer. */
export function simulateFarm(
  sites: readonly DemoSite[],
  seed: number,
  { nowMs, fromMs, aheadDays }: FarmWindow,
): FarmRun {
  const minutes = (longestDays + aheadDays) * 1440;
  // On the full hour, so that samples fall on round minutes.
  const startMs = Math.floor(nowMs / hourMs - longestDays * 24) * hourMs;
  const endMs = startMs + minutes * minuteMs;
  const nucs: { nuc: PlannedNuc; sketch: NucSketch }[] = [];
  const kept: SimMessage[] = [];
  const keep = (messages: readonly SimMessage[]): void => {
    for (const message of messages) {
      if (message.atMs >= fromMs && (message.atMs >= nowMs || onHistoryMinute(message, nowMs)))
        kept.push(message);
    }
  };
  for (const [index, site] of sites.entries()) {
    const weather = siteWeather(site, index, seed, startMs, minutes, nowMs);
    keep(siteMessages(site, index, seed, weather));
    for (const nuc of demoNucs.filter(({ siteKey }) => siteKey === site.key)) {
      const sim = demoNuc(nuc, site, seed, weather, nowMs, endMs);
      const { splitMs, timeline, parameters, introduction } = sim;
      nucs.push({ nuc, sketch: { splitMs, timeline, parameters, introduction } });
      const sensor = hiveSensor(nuc);
      keep(messagesOf(sim.readings.scale, { sensor }));
      keep(messagesOf(sim.readings.brood, { sensor, probe: 'brood' }));
      keep(messagesOf(sim.readings.cage, { sensor, probe: 'cage' }));
      keep(messagesOf(sim.readings.battery, { sensor }));
    }
  }
  kept.sort((a, b) => a.atMs - b.atMs);
  const firstAhead = kept.findIndex(({ atMs }) => atMs >= nowMs);
  return { startMs, endMs, nucs, history: kept.slice(0, firstAhead), ahead: kept.slice(firstAhead) };
}

/** Frequent readings are thinned; rare ones stay. */
const onHistoryMinute = ({ stampedAtMs, quantity }: SimMessage, nowMs: number): boolean =>
  (quantity !== 'weight' && quantity !== 'temperature') ||
  Math.floor(stampedAtMs / minuteMs) %
    (stampedAtMs < nowMs - olderAfterMs ? olderEveryMin : historyEveryMin) ===
    0;

/** A mild, flying spring; in the hollow a cold front came through yesterday and stays. */
function siteWeather(
  site: DemoSite,
  index: number,
  seed: number,
  startMs: number,
  minutes: number,
  nowMs: number,
): Weather {
  const cold = { fromMs: nowMs - 20 * hourMs, toMs: nowMs + 60 * hourMs, warmerC: -11, overcast: true };
  const spells = site.key === 'hollow' ? [cold] : [];
  return simulateWeather(seed * 31 + index, site, startMs, minutes, mildSky, spells);
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
    days: (endMs - splitMs) / dayMs,
    weather,
    everyMinutes: 1,
    // Today's visits are for whoever tries the demo.
    visitsUntilMs: localHour(nowMs, 0, 0, site.timeZone),
    introduction: { look: nuc.day >= 20 ? [17, 25] : [] },
    parameters: { ...quietDelivery, nectarFlow: 0.3, storesG: 4000, tareG: 5200, ...nuc.model.parameters },
  });
}

export function siteMessages(
  site: DemoSite,
  index: number,
  seed: number,
  weather: Weather,
  everyMinutes = siteEveryMin,
): SimMessage[] {
  const p = drawParameters(rngFor(seed, `site ${site.key}`), usualRanges, {
    ...quietDelivery,
    outsideSunC: 1.5,
  });
  const siteSeed = seed * 31 + index;
  const { startMs, minutes } = weather;
  const connection = connectionOf(siteSeed, 'site', p, startMs, minutes, []);
  const common = {
    everyMinutes,
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
    messagesOf(deliver(siteSeed, { ...what, ...common, summed }, values, connection, startMs), {
      sensor: siteSensor(site),
    });
  return [
    ...take({ place: 'outside', quantity: 'temperature', unit: 'Cel' }, outsideProbeC(siteSeed, p, weather)),
    ...take({ place: 'rain', quantity: 'rain', unit: 'mm' }, rainGaugeMm(weather), true),
    ...take({ place: 'humidity', quantity: 'humidity', unit: '%RH' }, humidityPct(siteSeed, weather)),
  ];
}
