/**
 * For each rule the inputs that lie just under, exactly at and just over its limits, and one without data.
 * `at` is null where a rule turns on a state that has no edge; `easing` lies between the two limits.
 */
import type { NucInput, RuleInput } from '../../server/rules/engine/inputs.ts';
import type {
  BroodRegime,
  NucSignals,
  ProbePlace,
  ThermalDose,
  WeightStep,
} from '../../server/signals/types.ts';
import {
  caged,
  channelInput,
  deviceInput,
  day,
  dose,
  estimate,
  health,
  hour,
  minute,
  noon,
  nucInput,
  released,
  serverInput,
  signals,
  siteInput,
  stage,
  step,
  unknown,
} from './made-up.ts';

type Made = (nowMs: number) => RuleInput;
export interface RuleCase {
  readonly id: string;
  readonly under: Made;
  readonly at: Made | null;
  readonly atSpeaks?: boolean;
  readonly over: Made;
  readonly easing?: Made;
  /** Null where a rule always has an answer. */
  readonly gap: Made | null;
  /** It tells of a moment to come, and is over once that has passed. */
  readonly foreseen?: true;
}

const doubted: ProbePlace = {
  state: 'unclear',
  sinceMs: noon - 3 * hour,
  how: 'held-more',
  doubts: [],
  putBackMs: null,
  why: 'it holds less than it did',
};

const nuc =
  (over: (nowMs: number) => Partial<NucInput>): Made =>
  (nowMs) =>
    nucInput({ ...over(nowMs), nowMs });
const sensed = (over: Partial<NucSignals>, more: Partial<NucInput> = {}, regime?: BroodRegime): Made =>
  nuc(() => ({ ...more, signals: signals(over, regime) }));
const blind = (more: Partial<NucInput> = {}): Made => nuc(() => ({ ...more, signals: null }));

/** A dose with this temperature now and this many degree-hours behind it. */
const thermal =
  (what: ThermalDose['what'], direction: 'cold' | 'heat', limitC: number, more: Partial<NucInput> = {}) =>
  (nowC: number | null, degreeHours: number): Made =>
    sensed({ doses: [dose(what, direction, limitC, nowC, { degreeHours })] }, more);
const brood = thermal('sealed-brood', 'cold', 32);
const hot = thermal('sealed-brood', 'heat', 37);
const coldCage = thermal('caged-queen', 'cold', 15, { introduction: caged() });
const hotCage = thermal('caged-queen', 'heat', 38, { introduction: caged() });

const drift = (state: NucSignals['drift']['state'], share: number | null): Partial<NucSignals> => ({
  drift: {
    ...signals().drift,
    state,
    massG: estimate(400, 360, 440),
    completeness: share === null ? unknown : estimate(share, share - 0.05, share + 0.03),
    sinceMs: 0,
    curve: [{ atMs: 0, massG: 1, lowG: 0, highG: 2 }],
  },
});
const outlook = (over: Partial<NucSignals['outlook']>): Partial<NucSignals> => ({
  outlook: { ...signals().outlook, ...over },
});
/** A nest whose falls go on. */
const nearLimit = (latestC: number, chanceBelow: number): Made =>
  sensed({ ...outlook({ falls: 'go-on', chanceBelow }), brood: { ...signals().brood, latestC } });
/** A fall to the limit within the hour and a half, in a nest whose usual lowest is known, but not what its nights hold. */
const fallingFrom = (latestC: number, usualLowestC: number): Made =>
  sensed({
    ...outlook({ basis: 'heat-budget', chanceBelow: 0.4, minutesToLimit: estimate(90, 60, 150) }),
    brood: { ...signals().brood, latestC },
    broodDays: [-0.3, 0, 0.2].map((k, i) => ({
      date: `2026-05-0${String(i + 1)}`,
      medianC: 34.4,
      minC: usualLowestC + k,
      maxC: 35,
      spreadC: 0.8,
      shareInBand: 1,
      coverage: 1,
    })),
  });
const nest = (share: number, coupling: number): Partial<NucSignals> => ({
  brood: {
    ...signals().brood,
    levelC: estimate(30),
    shareInBand: estimate(share),
    coupling: estimate(coupling),
  },
});
const bees = (frames: number): Made =>
  nuc(() => ({ introduction: caged({ bees: estimate(frames * 1900) }) }));
const boxStep = (kind: WeightStep['kind'], ageMs: number, sizeG: number): Made =>
  nuc((nowMs) => ({
    introduction: released(3, { candyOpenedAtMs: nowMs - 3 * day }),
    signals: signals({ steps: [{ atMs: nowMs - ageMs, sizeG, sizeSdG: 15, kind }] }),
  }));
/** On a scale whose unlogged steps are 70 g in the middle. */
const gusty = (sizeG: number): Made =>
  nuc((nowMs) => ({
    introduction: released(3, { candyOpenedAtMs: nowMs - 3 * day }),
    signals: signals({
      steps: [
        ...[40, -70, 90].map((g, i) => ({
          atMs: nowMs - (13 - i) * day,
          sizeG: g,
          sizeSdG: 15,
          kind: 'unexplained' as const,
        })),
        { atMs: nowMs - hour, sizeG, sizeSdG: 15, kind: 'unexplained' as const },
      ],
    }),
  }));
const noStep: Made = sensed({}, { introduction: released(3) });
const stepCase = (id: string, kind: WeightStep['kind'], sizeG: number, lookBackH: number): RuleCase => ({
  id,
  under: noStep,
  at: boxStep(kind, lookBackH * hour, sizeG),
  atSpeaks: true,
  over: boxStep(kind, hour, sizeG),
  gap: blind({ introduction: released(3) }),
});
const left = (lossG: number, followed: boolean | null = true, homeInMs = 3 * hour): Made =>
  nuc((nowMs) => ({
    signals: signals({
      massDepartures: [
        {
          fromMs: nowMs - 2 * hour,
          toMs: nowMs - hour,
          lossG,
          lossSdG: 20,
          temperatureFollowed: followed,
          homeByMs: nowMs + homeInMs,
          why: 'steep',
        },
      ],
    }),
  }));
const robbed = (days: number, underWay = true): Made =>
  sensed({
    robbing: {
      underWay,
      why: `${String(days)} such days`,
      days: Array.from({ length: days }, () => ({ date: '2026-05-05', lossG: 600, fastestGPerH: 250 })),
    },
  });
const regulation = (state: NucSignals['regulation']['state'], daysSinceRelease: number): Made =>
  sensed(
    {
      regulation: {
        state,
        why: '0 of the last 3 days steady',
        daysSinceRelease,
        days: [],
        steadySince: null,
      },
    },
    { introduction: released(15) },
  );
/** A day that was not, then so many that were, up to yesterday. */
const steadyDays = (count: number): Made =>
  nuc((nowMs) => ({
    signals: signals(
      {
        broodDays: [3, ...Array.from({ length: count }, () => 0.8)].map((spreadC, i) => ({
          date: new Date(nowMs - (count + 1 - i) * day).toISOString().slice(0, 10),
          medianC: 34.4,
          minC: 34,
          maxC: 35,
          spreadC,
          shareInBand: 1,
          coverage: 1,
        })),
      },
      'broodless',
    ),
  }));
const odd = (daysOutside: number): Made =>
  nuc(() => ({
    batch: {
      name: 'May',
      nucs: 8,
      measures: [{ name: 'Brood temperature', unit: '°C', value: 31, low: 33, high: 35, daysOutside }],
    },
  }));
const failing = (state: NucSignals['failing']['state']): Made =>
  sensed({
    failing: { state, since: state === 'failing' ? '2026-05-03' : null, why: 'two days without regulation' },
  });
const gPerK = (low: number): Made => sensed({ scaleTemperature: estimate(low + 3, low, low + 6) });
const silent =
  (ms: number): Made =>
  (nowMs) =>
    deviceInput({ lastHeardMs: nowMs - ms }, nowMs);
const stuck =
  (ms: number): Made =>
  (nowMs) =>
    channelInput({ unchangedSinceMs: nowMs - ms, lastHeardMs: nowMs }, nowMs);
/** From 16 °C up by so much on each of five days. */
const outsideOf =
  (rangeK: number | null): Made =>
  (nowMs) =>
    channelInput(
      {
        place: 'outside',
        lastHeardMs: nowMs,
        unchangedSinceMs: nowMs,
        ...(rangeK !== null && {
          outsideDays: Array.from({ length: 5 }, () => ({ lowC: 16, highC: 16 + rangeK })),
        }),
      },
      nowMs,
    );
const suspects =
  (count: number): Made =>
  (nowMs) =>
    channelInput({ readings24h: 100, suspects24h: count, lastHeardMs: nowMs }, nowMs);
const battery =
  (percent: number | null): Made =>
  (nowMs) =>
    deviceInput({ batteryPercent: percent, lastHeardMs: nowMs }, nowMs);
const site =
  (ageMs: number): Made =>
  (nowMs) =>
    siteInput(
      ['a', 'b', 'c'].map((sensor) =>
        health({ sensor, lastHeardMs: nowMs - ageMs, expectedIntervalMs: 10 * minute }),
      ),
      nowMs,
    );
const server =
  (over: (nowMs: number) => Parameters<typeof serverInput>[0]): Made =>
  (nowMs) =>
    serverInput({ ...over(nowMs), nowMs });
const planned = (aheadMs: number, latestMs = day): Made =>
  nuc((nowMs) => ({
    plan: [step({ earliestMs: nowMs - day, targetMs: nowMs + aheadMs, latestMs: nowMs + latestMs })],
  }));
const tooEarly = (earlyMs: number): Made =>
  nuc((nowMs) => ({ plan: [step({ targetMs: nowMs + day, earliestMs: nowMs + day + earlyMs })] }));
const virgin = (inMs: number): Made =>
  nuc((nowMs) => ({
    introduction: stage({
      virgin: {
        loose: inMs > 0 ? 'excluded' : 'possible',
        possibleFromMs: nowMs + inMs,
        why: 'no cut',
        settledBy: null,
      },
    }),
  }));
const workersLay = (inMs: number): Made =>
  nuc((nowMs) => ({
    introduction: stage({
      layingWorkersWatchMs: nowMs + inMs,
      layingWorkersLikelyMs: nowMs + inMs + 7 * day,
    }),
  }));
const inCage = (ms: number): Made =>
  nuc((nowMs) => ({ introduction: caged({ queenCagedSinceMs: nowMs - ms }) }));
const heldIn = (state: 'no-flying-weather' | 'leaving', ms: number): Made =>
  nuc((nowMs) => ({ introduction: stage({ splitAtMs: nowMs - ms }), signals: signals(drift(state, null)) }));
const cutIn = (ms: number): Made =>
  nuc((nowMs) => ({
    signals: signals(drift('leaving', 0.6)),
    plan: [step({ targetMs: nowMs + ms, latestMs: nowMs + ms + day })],
  }));
const nobodyLogged: Made = nuc(() => ({ introduction: stage({ virgin: null, layingWorkersWatchMs: null }) }));

const frozen =
  (sameMs: number): Made =>
  (nowMs) =>
    siteInput(
      [1, 2, 3].map((i) =>
        health({
          channelId: i,
          sensor: `probe-${String(i)}`,
          lastHeardMs: nowMs,
          unchangedSinceMs: nowMs - sameMs,
        }),
      ),
      nowMs,
    );

export const ruleCases: readonly RuleCase[] = [
  {
    id: 'brood-chilling',
    under: brood(33, 0),
    at: brood(31.9, 3),
    atSpeaks: true,
    over: brood(31, 7),
    easing: brood(31.9, 2.9),
    gap: brood(null, 0),
  },
  {
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ chanceBelow: 0.4, minutesToLimit: estimate(400, 300, 500) })),
    at: sensed(outlook({ chanceBelow: 0.4, minutesToLimit: estimate(150, 100, 200) })),
    atSpeaks: true,
    over: sensed(outlook({ chanceBelow: 0.4, minutesToLimit: estimate(90, 60, 150) })),
    easing: sensed(outlook({ chanceBelow: 0.4, minutesToLimit: estimate(200, 100, 300) })),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ chanceBelow: 0.4, minutesToLimit: estimate(400, 300, 500) })),
    easing: fallingFrom(34.1, 33.9),
    at: fallingFrom(33.9, 33.9),
    atSpeaks: false,
    over: fallingFrom(33.8, 33.9),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    // By its own nights: a fall is soon there, and the chance decides.
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ chanceBelow: 0.4, minutesToLimit: estimate(400, 300, 500) })),
    easing: sensed(outlook({ chanceBelow: 0.19, minutesToLimit: estimate(90, 60, 150) })),
    at: sensed(outlook({ chanceBelow: 0.2, minutesToLimit: estimate(90, 60, 150) })),
    atSpeaks: true,
    over: sensed(outlook({ chanceBelow: 0.25, minutesToLimit: estimate(90, 60, 150) })),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    // A sensor that reads seldom: the swing of a nest looks as if it fell.
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ readsSeldom: true, chanceBelow: 0.4, minutesToLimit: estimate(400, 300, 500) })),
    easing: sensed(outlook({ readsSeldom: true, chanceBelow: 0.39, minutesToLimit: estimate(90, 60, 150) })),
    at: sensed(outlook({ readsSeldom: true, chanceBelow: 0.4, minutesToLimit: estimate(90, 60, 150) })),
    atSpeaks: true,
    over: sensed(outlook({ readsSeldom: true, chanceBelow: 0.45, minutesToLimit: estimate(90, 60, 150) })),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    // Its falls go on: no night before it has to have shown that.
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ falls: 'go-on', chanceBelow: 0.01, minutesToLimit: estimate(400, 300, 500) })),
    at: sensed(outlook({ falls: 'go-on', chanceBelow: 0.01, minutesToLimit: estimate(150, 100, 200) })),
    atSpeaks: true,
    over: sensed(outlook({ falls: 'go-on', chanceBelow: 0.01, minutesToLimit: estimate(90, 60, 150) })),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    // Its falls have turned: this one will, unless the night says otherwise.
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ falls: 'turn', chanceBelow: 0.4, minutesToLimit: estimate(400, 300, 500) })),
    easing: sensed(outlook({ falls: 'turn', chanceBelow: 0.59, minutesToLimit: estimate(90, 60, 150) })),
    at: sensed(outlook({ falls: 'turn', chanceBelow: 0.6, minutesToLimit: estimate(90, 60, 150) })),
    atSpeaks: true,
    over: sensed(outlook({ falls: 'turn', chanceBelow: 0.7, minutesToLimit: estimate(90, 60, 150) })),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    // More likely than not: told while the fall is still hours from the limit.
    id: 'chilling-ahead',
    foreseen: true,
    under: sensed(outlook({ chanceBelow: 0.59, minutesToLimit: estimate(250, 200, 360) })),
    at: sensed(outlook({ chanceBelow: 0.6, minutesToLimit: estimate(250, 200, 360) })),
    atSpeaks: true,
    over: sensed(outlook({ chanceBelow: 0.7, minutesToLimit: estimate(250, 200, 300) })),
    gap: sensed({ brood: { ...signals().brood, latestC: null } }),
  },
  {
    id: 'chilling-tonight',
    foreseen: true,
    under: sensed(outlook({ chanceBelow: 0.2 })),
    at: sensed(outlook({ chanceBelow: 0.8 })),
    atSpeaks: true,
    over: sensed(outlook({ chanceBelow: 0.9 })),
    easing: sensed(outlook({ chanceBelow: 0.5 })),
    gap: sensed(outlook({ chanceBelow: null, basis: 'none', tonightMinC: unknown })),
  },
  {
    // Its falls go on, and it has come near its limit.
    id: 'chilling-tonight',
    foreseen: true,
    under: nearLimit(33.5, 0.2),
    easing: nearLimit(33.6, 0.3),
    at: nearLimit(33.5, 0.3),
    atSpeaks: true,
    over: nearLimit(33.4, 0.4),
    gap: sensed(outlook({ chanceBelow: null, basis: 'none', tonightMinC: unknown })),
  },
  {
    id: 'probe-or-nest',
    under: sensed({}),
    at: null,
    over: sensed({ probePlace: doubted }),
    gap: sensed({ probePlace: { ...doubted, state: 'cannot-tell' } }),
  },
  {
    id: 'brood-too-hot',
    under: hot(36, 0),
    at: hot(38, 2),
    atSpeaks: true,
    over: hot(39, 3),
    easing: hot(37.9, 5.9),
    gap: hot(null, 0),
  },
  {
    id: 'brood-too-hot',
    under: hot(36, 7),
    at: hot(37.1, 6),
    atSpeaks: true,
    over: hot(37.5, 8),
    gap: hot(null, 0),
  },
  {
    id: 'cage-too-cold',
    under: coldCage(17, 0),
    at: coldCage(15, 5),
    atSpeaks: false,
    over: coldCage(14.9, 5),
    easing: coldCage(15.5, 5),
    gap: coldCage(null, 0),
  },
  {
    id: 'cage-too-hot',
    under: hotCage(37, 0),
    at: hotCage(38, 5),
    atSpeaks: false,
    over: hotCage(38.1, 5),
    easing: hotCage(37.8, 5),
    gap: hotCage(null, 0),
  },
  {
    id: 'too-weak-to-keep-warm',
    under: sensed(nest(0.7, 0.1)),
    at: sensed(nest(0.4, 0.3)),
    atSpeaks: true,
    over: sensed(nest(0.1, 0.6)),
    easing: sensed(nest(0.5, 0.6)),
    gap: sensed({ brood: { ...signals().brood, shareInBand: unknown, coupling: unknown } }),
  },
  {
    id: 'too-strong-to-accept',
    under: bees(3),
    at: bees(4.5),
    atSpeaks: true,
    over: bees(5),
    easing: bees(4.2),
    gap: nuc(() => ({ introduction: stage({ bees: unknown }) })),
  },
  {
    id: 'foragers-gone',
    under: sensed(drift('leaving', 0.5)),
    at: sensed(drift('gone', 0.95)),
    atSpeaks: true,
    over: sensed(drift('gone', 0.98)),
    easing: sensed(drift('nearly-gone', 0.93)),
    gap: sensed(drift('cannot-tell', null)),
  },
  {
    id: 'foragers-leaving',
    under: cutIn(2 * day),
    at: cutIn(day),
    atSpeaks: true,
    over: cutIn(12 * hour),
    easing: nuc((nowMs) => ({
      signals: signals(drift('nearly-gone', 0.93)),
      plan: [step({ targetMs: nowMs + 12 * hour })],
    })),
    gap: nuc((nowMs) => ({
      signals: signals(drift('cannot-tell', null)),
      plan: [step({ targetMs: nowMs + hour })],
    })),
  },
  {
    id: 'foragers-held-in',
    under: heldIn('leaving', 5 * day),
    at: heldIn('no-flying-weather', 3 * day),
    atSpeaks: true,
    over: heldIn('no-flying-weather', 4 * day),
    gap: null,
  },
  { id: 'left-in-a-mass', under: left(150), at: left(300), atSpeaks: true, over: left(700), gap: blind() },
  {
    id: 'left-in-a-mass',
    under: left(700, false, minute),
    at: left(700, false, 0),
    atSpeaks: true,
    over: left(700, null, -hour),
    gap: blind(),
  },
  {
    id: 'being-robbed',
    under: robbed(3, false),
    at: robbed(2),
    atSpeaks: true,
    over: robbed(4),
    gap: blind(),
  },
  {
    id: 'stores-low',
    under: sensed({ stores: estimate(20) }),
    at: sensed({ stores: estimate(7) }),
    atSpeaks: true,
    over: sensed({ stores: estimate(5, 4, 6) }),
    easing: sensed({ stores: estimate(8) }),
    gap: sensed({ stores: unknown }),
  },
  {
    id: 'visit-due',
    under: planned(2 * day),
    at: planned(12 * hour),
    atSpeaks: true,
    over: planned(hour),
    gap: null,
  },
  {
    id: 'visit-overdue',
    under: planned(-2 * day, hour),
    at: planned(-2 * day, 0),
    atSpeaks: false,
    over: planned(-2 * day, -2 * hour),
    gap: null,
  },
  {
    id: 'visit-too-early',
    under: tooEarly(-hour),
    at: tooEarly(0),
    atSpeaks: false,
    over: tooEarly(5 * hour),
    gap: null,
  },
  {
    id: 'virgin-may-be-out',
    under: virgin(day),
    at: virgin(0),
    atSpeaks: true,
    over: virgin(-day),
    gap: nobodyLogged,
  },
  { ...stepCase('disturbed-in-hands-off', 'opened', 400, 24) },
  {
    id: 'disturbed-in-hands-off',
    under: gusty(139),
    at: gusty(140),
    atSpeaks: true,
    over: gusty(600),
    gap: blind({ introduction: released(3) }),
  },
  {
    id: 'cage-too-long',
    under: inCage(5 * day),
    at: inCage(10 * day),
    atSpeaks: true,
    over: inCage(12 * day),
    gap: null,
  },
  {
    id: 'brood-disease',
    under: nuc(() => ({ introduction: stage({ diseaseSignsAtMs: null }) })),
    at: null,
    over: nuc((nowMs) => ({ introduction: stage({ diseaseSignsAtMs: nowMs - day }) })),
    gap: null,
  },
  {
    id: 'laying-worker-date',
    under: workersLay(5 * day),
    at: workersLay(2 * day),
    atSpeaks: true,
    over: workersLay(day),
    gap: nobodyLogged,
  },
  {
    id: 'not-steadying',
    under: regulation('agreeing', 15),
    at: regulation('not-agreeing', 12),
    atSpeaks: true,
    over: regulation('not-agreeing', 15),
    gap: regulation('cannot-tell', 15),
  },
  {
    id: 'steadying-too-early',
    under: steadyDays(0),
    at: steadyDays(3),
    atSpeaks: true,
    over: steadyDays(5),
    easing: steadyDays(2),
    gap: sensed({ broodDays: [] }, {}, 'broodless'),
  },
  {
    id: 'unlike-its-batch',
    under: odd(0),
    at: odd(2),
    atSpeaks: true,
    over: odd(4),
    easing: odd(1),
    gap: nuc(() => ({ batch: { name: 'May', nucs: 5, measures: [] } })),
  },
  {
    id: 'colony-failing',
    under: failing('no'),
    at: null,
    over: failing('failing'),
    gap: failing('cannot-tell'),
  },
  stepCase('box-toppled', 'toppled', -9000, 72),
  stepCase('box-gone', 'gone', -14000, 720),
  stepCase('box-lifted', 'lifted', 20, 24),
  stepCase('scale-lost-zero', 'zeroed', -11_400, 168),
  {
    id: 'sensor-silent',
    under: silent(10 * minute),
    at: silent(180 * minute),
    atSpeaks: true,
    over: silent(200 * minute),
    gap: (nowMs) => deviceInput({ expectedIntervalMs: null }, nowMs),
  },
  {
    id: 'sensor-clock-behind',
    under: (nowMs) => deviceInput({ lastHeardMs: nowMs }, nowMs),
    at: null,
    over: (nowMs) =>
      deviceInput(
        { lastHeardMs: nowMs, behind: { sinceMs: nowMs - 4 * hour, tellsOfMs: nowMs - day } },
        nowMs,
      ),
    gap: (nowMs) => deviceInput({ lastHeardMs: null }, nowMs),
  },
  {
    id: 'sensor-stuck',
    under: stuck(2 * hour),
    at: stuck(18 * hour),
    atSpeaks: true,
    over: stuck(30 * hour),
    gap: (nowMs) => channelInput({ readings24h: 2 }, nowMs),
  },
  {
    id: 'sensor-implausible',
    under: suspects(1),
    at: suspects(5),
    atSpeaks: true,
    over: suspects(60),
    easing: suspects(3),
    gap: (nowMs) => channelInput({ readings24h: 0 }, nowMs),
  },
  {
    id: 'outside-misplaced',
    under: outsideOf(8),
    at: outsideOf(4),
    atSpeaks: true,
    over: outsideOf(2.4),
    gap: outsideOf(null),
  },
  {
    // In the sun.
    id: 'outside-misplaced',
    under: outsideOf(28),
    at: outsideOf(29),
    atSpeaks: true,
    over: outsideOf(35),
    gap: outsideOf(null),
  },
  {
    id: 'battery-low',
    under: battery(80),
    at: battery(15),
    atSpeaks: true,
    over: battery(8),
    easing: battery(20),
    gap: null,
  },
  {
    id: 'scale-drifting',
    under: gPerK(2),
    at: gPerK(20),
    atSpeaks: true,
    over: gPerK(30),
    easing: gPerK(17),
    gap: sensed({ scaleTemperature: unknown }),
  },
  {
    id: 'everything-frozen',
    under: frozen(5 * hour),
    at: frozen(6 * hour),
    atSpeaks: true,
    over: frozen(9 * hour),
    gap: (nowMs) => siteInput([], nowMs),
  },
  {
    id: 'everything-silent',
    under: site(5 * minute),
    at: site(20 * minute),
    atSpeaks: true,
    over: site(40 * minute),
    gap: (nowMs) => siteInput([], nowMs),
  },
  {
    id: 'broker-away',
    under: server(() => ({})),
    at: server((nowMs) => ({ brokerAwaySinceMs: nowMs - 10 * minute })),
    atSpeaks: true,
    over: server((nowMs) => ({ brokerAwaySinceMs: nowMs - hour })),
    easing: server((nowMs) => ({ brokerAwaySinceMs: nowMs - 5 * minute })),
    gap: null,
  },
  {
    id: 'server-was-down',
    under: server(() => ({})),
    at: server((nowMs) => ({ down: { fromMs: nowMs - hour, toMs: nowMs - 40 * minute } })),
    atSpeaks: true,
    over: server((nowMs) => ({ down: { fromMs: nowMs - 5 * hour, toMs: nowMs - minute } })),
    gap: null,
  },
  {
    id: 'disk-filling',
    under: server(() => ({})),
    at: server(() => ({ disk: { freeMB: 300, writtenPerDayMB: null, refusingSinceMs: null } })),
    atSpeaks: true,
    over: server(() => ({ disk: { freeMB: 100, writtenPerDayMB: 20, refusingSinceMs: null } })),
    easing: server(() => ({ disk: { freeMB: 330, writtenPerDayMB: 1, refusingSinceMs: null } })),
    gap: server(() => ({ disk: null })),
  },
];
