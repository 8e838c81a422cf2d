/** Invented, uneventful inputs for the rules: everything is well until a test says otherwise. */
import type {
  ChannelInput,
  ChannelHealth,
  DeviceInput,
  NucInput,
  PlannedVisit,
  ServerInput,
  SiteInput,
  StageFacts,
} from '../../server/rules/engine/inputs.ts';
import type { BroodRegime, Estimate, NucSignals, ThermalDose } from '../../server/signals/types.ts';
import type { Subject } from '../../server/rules/engine/types.ts';

export const minute = 60_000;
export const hour = 60 * minute;
export const day = 24 * hour;
/** Noon in Berlin on 6 May 2026; the split of the made-up nuc was six days before. */
export const noon = Date.UTC(2026, 4, 6, 10);

export const estimate = (value: number, low = value, high = value): Estimate => ({
  ok: true,
  value,
  low,
  high,
  level: 0.9,
  restsOn: ['three nights'],
});
export const unknown: Estimate = { ok: false, why: 'too little was measured' };

export const nucSubject: Subject = { kind: 'nuc', id: 'n1', name: 'Nuc 1', siteId: 's1', siteName: 'Hill' };
export const channelSubject: Subject = {
  kind: 'channel',
  id: '7',
  name: 'probe-7',
  siteId: 's1',
  siteName: 'Hill',
  nucId: 'n1',
};
export const siteSubject: Subject = { kind: 'site', id: 's1', name: 'Hill' };
export const serverSubject: Subject = { kind: 'server', id: 'server', name: 'This server' };

export const stage = (over: Partial<StageFacts> = {}): StageFacts => ({
  stage: 'queenless',
  words: 'queenless, day 6',
  splitAtMs: noon - 6 * day,
  queenlessSinceMs: noon - 6 * day,
  queenCagedSinceMs: null,
  candyOpenedAtMs: null,
  handsOffUntilMs: null,
  virgin: {
    loose: 'excluded',
    possibleFromMs: noon + 90 * day,
    why: 'no cell can have emerged',
    settledBy: null,
  },
  completeCutAtMs: null,
  layingWorkersWatchMs: noon + 90 * day,
  layingWorkersLikelyMs: noon + 97 * day,
  mayOpenCandy: 'wait',
  bees: estimate(4750, 4000, 5500),
  broodChangesAtMs: null,
  ...over,
});
export const caged = (over: Partial<StageFacts> = {}): StageFacts =>
  stage({ stage: 'caged', queenCagedSinceMs: noon - day, completeCutAtMs: noon - day, ...over });
export const released = (daysAgo: number, over: Partial<StageFacts> = {}): StageFacts =>
  stage({
    stage: 'hands-off',
    candyOpenedAtMs: noon - daysAgo * day,
    handsOffUntilMs: noon + (7 - daysAgo) * day,
    mayOpenCandy: null,
    ...over,
  });

export const step = (over: Partial<PlannedVisit> = {}): PlannedVisit => ({
  id: 'p1',
  kind: 'cut-cells',
  whatToDo: 'Cut the cells',
  earliestMs: noon + 20 * day,
  targetMs: noon + 20 * day + hour,
  latestMs: noon + 21 * day,
  done: false,
  ...over,
});

export const dose = (
  what: ThermalDose['what'],
  direction: ThermalDose['direction'],
  limitC: number,
  nowC: number | null,
  over: Partial<ThermalDose> = {},
): ThermalDose => ({
  what,
  direction,
  limitC,
  beyondNow: nowC !== null && (direction === 'cold' ? nowC < limitC : nowC > limitC),
  sinceMs: noon - 2 * hour,
  nowC,
  nowAtMs: nowC === null ? null : noon,
  degreeHours: 5,
  excused: false,
  ...over,
});

const doses = (broodC: number, cageC: number): ThermalDose[] => [
  dose('open-brood', 'cold', 32, broodC),
  dose('open-brood', 'heat', 37, broodC),
  dose('sealed-brood', 'cold', 32, broodC),
  dose('sealed-brood', 'heat', 37, broodC),
  dose('caged-queen', 'cold', 15, cageC),
  dose('caged-queen', 'heat', 38, cageC),
];

export function signals(over: Partial<NucSignals> = {}, regime: BroodRegime = 'sealed-brood'): NucSignals {
  return {
    nowMs: noon,
    outsideNow: { temperatureC: 18, rained: false },
    nightWeights: [],
    steps: [],
    drift: {
      state: 'cannot-tell',
      why: 'too few nights yet',
      massG: unknown,
      bees: unknown,
      completeness: unknown,
      byWeather: unknown,
      flightHours: 9,
      flyingDays: 3,
      sinceMs: null,
      curve: [],
    },
    daily: [],
    stores: estimate(30, 25, 36),
    storesG: estimate(3000),
    consumptionGPerDay: estimate(100),
    massDepartures: [],
    robbing: { days: [], underWay: false, why: 'no day lost more than a nuc eats' },
    brood: {
      regime,
      bandC: { low: 33, high: 36 },
      latestC: 34.5,
      latestAtMs: noon,
      levelC: estimate(34.5),
      spreadC: estimate(0.8),
      shareInBand: estimate(0.97),
      coupling: estimate(0.05),
    },
    broodDays: [],
    doses: doses(34.5, 30),
    outlook: {
      minutesToLimit: unknown,
      tonightMinC: estimate(33.8, 33, 34.5),
      limitC: 32,
      chanceBelow: 0.02,
      chanceOfUsual: null,
      basis: 'own-record',
      forecast: 'told',
      nightBeginsMs: noon + 9 * hour,
      nightEndsMs: noon + 17 * hour,
    },
    regulation: {
      state: 'too-early',
      why: 'released lately',
      daysSinceRelease: 2,
      days: [],
      steadySince: null,
    },
    failing: { state: 'no', since: null, why: 'the nest is regulated' },
    probeJumps: [],
    probePlace: {
      state: 'in-nest',
      sinceMs: null,
      how: null,
      doubts: [],
      putBackMs: null,
      why: 'it reads as a nest does',
    },
    scaleTemperature: estimate(4, 2, 6),
    ...over,
  };
}

/** Readings that were made at noon are moved along: the sensors go on reporting. */
function reportingAt(said: NucSignals, nowMs: number): NucSignals {
  const moved = (atMs: number | null): number | null => (atMs === noon ? nowMs : atMs);
  return {
    ...said,
    brood: { ...said.brood, latestAtMs: moved(said.brood.latestAtMs) },
    doses: said.doses.map((one) => ({ ...one, nowAtMs: moved(one.nowAtMs) })),
  };
}

export function nucInput(over: Partial<NucInput> = {}): NucInput {
  const nowMs = over.nowMs ?? noon;
  const said = over.signals === undefined ? signals() : over.signals;
  return {
    on: 'nuc',
    nowMs,
    subject: nucSubject,
    timeZone: 'Europe/Berlin',
    introduction: stage(),
    plan: [],
    sensors: [],
    lastVisitAtMs: null,
    batch: null,
    ...over,
    signals: said && reportingAt(said, nowMs),
  };
}

export const health = (over: Partial<ChannelHealth> = {}): ChannelHealth => ({
  channelId: 7,
  sensor: 'probe-7',
  quantity: 'temperature',
  place: 'brood',
  lastHeardMs: noon,
  expectedIntervalMs: 5 * minute,
  lastValue: 34.5,
  unchangedSinceMs: noon,
  readings24h: 288,
  suspects24h: 0,
  batteryPercent: 80,
  batteryPercentPerDay: -0.2,
  ...over,
});

export const channelInput = (over: Partial<ChannelHealth> = {}, nowMs = noon): ChannelInput => ({
  on: 'channel',
  nowMs,
  subject: channelSubject,
  timeZone: 'Europe/Berlin',
  channel: health(over),
});

/** The device that channels belong to. */
export const deviceOf = (first: ChannelInput, ...others: readonly ChannelInput[]): DeviceInput => ({
  on: 'device',
  nowMs: first.nowMs,
  subject: { ...first.subject, kind: 'device', id: first.channel.sensor },
  timeZone: first.timeZone,
  channels: [first, ...others].map(({ subject, channel }) => ({ name: subject.name, health: channel })),
});
/** A device with one channel. */
export const deviceInput = (over: Partial<ChannelHealth> = {}, nowMs = noon): DeviceInput =>
  deviceOf(channelInput(over, nowMs));

export const siteInput = (sensors: readonly ChannelHealth[], nowMs = noon): SiteInput => ({
  on: 'site',
  nowMs,
  subject: siteSubject,
  timeZone: 'Europe/Berlin',
  sensors,
});

export const serverInput = (over: Partial<ServerInput> = {}): ServerInput => ({
  on: 'server',
  nowMs: noon,
  subject: serverSubject,
  timeZone: 'Europe/Berlin',
  startedAtMs: noon - 30 * day,
  down: null,
  brokerAwaySinceMs: null,
  disk: { freeMB: 20_000, writtenPerDayMB: 5, refusingSinceMs: null },
  ...over,
});

/** A server whose broker has been away for an hour. */
export const brokenInput = (nowMs: number): ServerInput =>
  serverInput({ nowMs, brokerAwaySinceMs: nowMs - hour });
