/** One simulated nuc: its weather, its life, and what its sensors delivered, beside the truth. */
import { liveThrough } from './colony/colony.ts';
import {
  deliver,
  connectionOf,
  type Connection,
  type Outage,
  type PlaceReadings,
  type Sampling,
} from './sensors/delivery.ts';
import type { Happening } from './happenings.ts';
import type { Place, SensorFault } from './sensors/faults.ts';
import { flightActivity } from './flight.ts';
import { overlayOf, type Overlay } from './overlay.ts';
import { drawParameters, settings, type NucParameters, type SettingName } from './parameters.ts';
import { localHour, minuteMs, type SimPlace } from './place.ts';
import {
  batteryDiesInDays,
  batteryPct,
  hiveProbeC,
  humidityPct,
  outsideProbeC,
  rainGaugeMm,
} from './sensors/probes.ts';
import { rngFor, type Rng } from './random.ts';
import { scaleReadingsKg } from './sensors/scale.ts';
import { scenarios, type IntroductionDays, type ScenarioName } from './scenarios.ts';
import { layOut, scenarioSpells, withMore, type Timeline } from './colony/timeline.ts';
import type { Truth } from './colony/truth.ts';
import { partOf, simulateWeather, type Weather, type WeatherSpell } from './weather.ts';

export interface ScenarioOptions {
  /** Whole number; everything follows from it. */
  readonly seed: number;
  readonly scenario?: ScenarioName;
  /** `unseen`: ranges that no estimator was tuned on; `practice`: splits of the size that keepers make. */
  readonly setting?: SettingName;
  /** Happenings beside those of the scenario: a feed, robbers, bees that drift in. */
  readonly happenings?: readonly Happening[];
  /** Places that have no sensor. */
  readonly without?: readonly Place[];
  /** Days simulated from the split on; 20 by default. */
  readonly days?: number;
  readonly place?: SimPlace;
  /** Instant of the split; a late-spring morning of the place's own half of the year by default. */
  readonly splitMs?: number;
  /** Fixes what would be drawn. */
  readonly parameters?: Partial<NucParameters>;
  readonly introduction?: Partial<IntroductionDays>;
  readonly faults?: readonly SensorFault[];
  readonly spells?: readonly WeatherSpell[];
  readonly outages?: readonly Outage[];
  /** Interval of weight and temperature readings; drawn from 1, 5 and 10 by default. */
  readonly everyMinutes?: number;
  /** Mean of the air instead of the season's, °C. */
  readonly meanC?: number;
  /** Weather of the site, shared by its nucs; it must cover the run. Drawn from the seed by default. */
  readonly weather?: Weather;
  /** No visit of the keeper from here on. */
  readonly visitsUntilMs?: number;
}

export interface SimulatedNuc {
  readonly seed: number;
  readonly scenario: ScenarioName;
  readonly splitMs: number;
  readonly days: number;
  readonly place: SimPlace;
  readonly parameters: NucParameters;
  readonly introduction: IntroductionDays;
  readonly timeline: Timeline;
  readonly weather: Weather;
  readonly readings: Readonly<Record<Place, PlaceReadings>>;
  readonly truth: Truth;
}

export function simulateNuc(options: ScenarioOptions): SimulatedNuc {
  const { seed, scenario = 'clean', days = 20 } = options;
  const changed = scenarios[scenario];
  const ranges = { ...settings[options.setting ?? 'usual'], ...changed.ranges };
  const p = drawParameters(rngFor(seed, 'parameters'), ranges, options.parameters);
  const place = options.place ?? drawPlace(rngFor(seed, 'place'), p.latDeg);
  const splitMs = options.splitMs ?? drawSplit(rngFor(seed, 'date'), place);
  const introduction = { ...changed.days, ...options.introduction };
  const minutes = Math.round(days * 1440);
  const visitsUntilMs = options.visitsUntilMs ?? Infinity;
  const setting = { scenario, days: introduction, splitMs, place, visitsUntilMs };

  const spells = [...scenarioSpells(rngFor(seed, 'spells'), setting), ...(options.spells ?? [])];
  const drawnMeanC = changed.meanC ? rngFor(seed, 'mean').between(...changed.meanC) : undefined;
  const meanC = options.meanC ?? drawnMeanC;
  const sky = { ...p, ...(meanC === undefined ? {} : { meanC }) };
  const weather = options.weather
    ? partOf(options.weather, splitMs, minutes)
    : simulateWeather(seed, place, splitMs, minutes, sky, spells);
  const flight = flightActivity(weather, p);
  const timeline = withMore(
    layOut(rngFor(seed, 'timeline'), setting, weather, flight),
    options.happenings ?? [],
  );
  const overlay = overlayOf(seed, timeline.happenings, splitMs, minutes);
  const lived = liveThrough(seed, p, weather, flight, timeline, overlay);
  const nights = gatewayNight(rngFor(seed, 'gateway'), scenario, splitMs, place);
  const dark = nights.map(({ fromMs, toMs }) => ({
    atMs: fromMs,
    untilMs: toMs,
    kind: 'gateway-off' as const,
  }));
  const truth = { ...lived, events: [...lived.events, ...dark].sort((a, b) => a.atMs - b.atMs) };
  const outages = [...(options.outages ?? []), ...nights];
  const readings = sense({ ...options, outages }, p, truth, weather, overlay);
  return {
    seed,
    scenario,
    splitMs,
    days,
    place,
    parameters: p,
    introduction,
    timeline,
    weather,
    readings,
    truth,
  };
}

/** Zones for drawn latitudes; the longitude is near the zone's own meridian. */
function drawPlace(rng: Rng, latDeg: number): SimPlace {
  const zones = [
    { timeZone: 'Europe/Berlin', lonDeg: 12, south: false },
    { timeZone: 'America/Chicago', lonDeg: -92, south: false },
    { timeZone: 'Europe/London', lonDeg: -1, south: false },
    { timeZone: 'Australia/Sydney', lonDeg: 149, south: true },
  ] as const;
  const zone = zones[rng.whole(0, zones.length - 1)] ?? zones[0];
  const lonDeg = zone.lonDeg + rng.between(-4, 4);
  // In the south bees are kept nearer to the equator.
  return { latDeg: zone.south ? -latDeg * 0.75 : latDeg, lonDeg, timeZone: zone.timeZone };
}

/** A split between late April and mid July (late October and mid January in the south), at 10 to 14 o'clock. */
function drawSplit(rng: Rng, place: SimPlace): number {
  const from = place.latDeg >= 0 ? Date.UTC(2025, 3, 25) : Date.UTC(2025, 9, 25);
  return localHour(from, rng.whole(0, 80), rng.between(10, 14), place.timeZone);
}

/** What sends the readings of several probes: one under the nuc, one for the site. */
interface Device extends Pick<Sampling, 'offsetMin' | 'offsetMs' | 'goneFromMin'> {
  readonly connection: Connection;
}

function sense(
  options: ScenarioOptions,
  p: NucParameters,
  truth: Truth,
  weather: Weather,
  overlay: Overlay,
): Record<Place, PlaceReadings> {
  const { seed, scenario = 'clean' } = options;
  const { startMs, minutes } = truth;
  const rng = rngFor(seed, 'sensors');
  const faults = options.faults ?? scenarios[scenario].faults;
  const everyMinutes = options.everyMinutes ?? [1, 5, 10][rng.whole(0, 2)] ?? 5;
  const outages = options.outages ?? [];
  const gone = overlay.gone.indexOf(1);
  const dying = faults.find((fault) => fault.kind === 'battery-low')?.fromDay ?? Infinity;
  // A stolen box takes its probes along, an empty battery silences the whole device.
  const emptyMin = (dying + batteryDiesInDays) * 1440;
  const goneFromMin = Math.min(gone < 0 ? Infinity : gone + 2, emptyMin);
  const minutesOf = { hive: rng.whole(0, everyMinutes - 1), site: rng.whole(0, everyMinutes - 1) };
  // Each device wakes at its own second.
  const msOf = { hive: rng.whole(0, 57) * 1000, site: rng.whole(0, 57) * 1000 };
  const device = (name: 'hive' | 'site'): Device => ({
    connection: connectionOf(seed, name, p, startMs, minutes, outages),
    offsetMin: minutesOf[name],
    offsetMs: msOf[name],
    goneFromMin: name === 'hive' ? goneFromMin : Infinity,
  });
  const hive = device('hive');
  const site = device('site');

  const take = (
    what: Pick<Sampling, 'place' | 'quantity' | 'unit'>,
    values: Float64Array,
    { connection, ...rhythm }: Device,
    more: Partial<Sampling> = {},
  ) => {
    const sampling: Sampling = {
      ...what,
      ...rhythm,
      everyMinutes,
      summed: false,
      faults: faults.filter((fault) => fault.place === what.place),
      ...more,
    };
    const delivered = deliver(seed, sampling, values, connection, startMs);
    return options.without?.includes(what.place) ? none(delivered) : delivered;
  };
  const temperature = { quantity: 'temperature', unit: 'Cel' } as const;
  const kilograms = scaleReadingsKg(seed, p, truth, weather, overlay);
  return {
    scale: take({ place: 'scale', quantity: 'weight', unit: 'kg' }, kilograms, hive, {
      goneFromMin: emptyMin,
    }),
    brood: take(
      { place: 'brood', ...temperature },
      hiveProbeC(seed, 'brood', p, truth, weather, overlay),
      hive,
    ),
    cage: take({ place: 'cage', ...temperature }, hiveProbeC(seed, 'cage', p, truth, weather, overlay), hive),
    outside: take({ place: 'outside', ...temperature }, outsideProbeC(seed, p, weather), site),
    rain: take({ place: 'rain', quantity: 'rain', unit: 'mm' }, rainGaugeMm(weather), site, { summed: true }),
    humidity: take(
      { place: 'humidity', quantity: 'humidity', unit: '%RH' },
      humidityPct(seed, weather),
      site,
    ),
    battery: take(
      { place: 'battery', quantity: 'battery', unit: '%EL' },
      batteryPct(seed, minutes, dying * 1440),
      hive,
      { everyMinutes: 60 },
    ),
  };
}

const none = (readings: PlaceReadings): PlaceReadings => ({
  ...readings,
  takenAtMs: new Float64Array(0),
  stampedAtMs: new Float64Array(0),
  arrivedAtMs: new Float64Array(0),
  value: new Float64Array(0),
  copies: new Uint8Array(0),
});

/** The gateway is off for a night in that scenario; the readings are lost or come in a late batch. */
function gatewayNight(rng: Rng, scenario: ScenarioName, startMs: number, place: SimPlace): Outage[] {
  if (scenario !== 'gateway-off') return [];
  const day = rng.whole(2, 14);
  const fromMs = localHour(startMs, day, rng.between(18, 22), place.timeZone);
  const toMs = localHour(startMs, day + 1, rng.between(6, 9), place.timeZone);
  return [{ fromMs, toMs, kept: rng.chance(0.5) }];
}

/** Minute of the run at an instant, for looking into the truth's arrays. */
export const minuteOf = (truth: Truth, atMs: number): number => Math.floor((atMs - truth.startMs) / minuteMs);
