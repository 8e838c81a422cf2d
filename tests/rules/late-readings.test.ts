/**
 * From readings to an alert, whatever the order in which they come: a nest cools from 34 °C at 12:00 by 4 °C an hour
 * to 30 °C, and stays there. Each row says when which reading arrives; the alert follows what was known at each look.
 */
import { describe, expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { analyseNuc } from '../../server/signals/analyse.ts';
import { hour, minute, noon, nucInput } from './made-up.ts';

const everyMin = 5;
const lastMin = 180;
const tempAt = (min: number): number => Math.max(30, 34 - (4 * Math.max(0, min)) / 60);

interface Arrival {
  /** Minutes since noon at which it was true, and at which it reached us. */
  readonly observed: number;
  readonly arrived: number;
}
const usual: readonly Arrival[] = Array.from({ length: (lastMin + 26 * 60) / everyMin }, (_, i) => {
  const observed = -24 * 60 + i * everyMin;
  return { observed, arrived: observed };
}).filter(({ observed }) => observed <= lastMin);
const late = (fromMin: number, toMin: number, arrived: number): Arrival[] =>
  usual.map((one) => (one.observed >= fromMin && one.observed < toMin ? { ...one, arrived } : one));

/** What a store gives at `nowMin`: of each instant one reading, in order. */
function seriesAt(arrivals: readonly Arrival[], nowMin: number) {
  const known = new Set(arrivals.filter(({ arrived }) => arrived <= nowMin).map(({ observed }) => observed));
  const observed = [...known].sort((a, b) => a - b);
  return {
    atMs: Float64Array.from(observed, (min) => noon + min * minute),
    value: Float64Array.from(observed, tempAt),
  };
}

/** Minute at which brood chilling was raised, by looks every five minutes; null for never. */
function raisedAt(arrivals: readonly Arrival[]): number | null {
  let alerts: Alerts = new Map<string, AlertState>();
  for (let min = 0; min <= lastMin; min += everyMin) {
    const nowMs = noon + min * minute;
    const signals = analyseNuc(
      {
        series: { broodC: seriesAt(arrivals, min) },
        place: { latDeg: 52, lonDeg: 10, timeZone: 'Europe/Berlin' },
        events: [],
        broodRegime: () => 'sealed-brood',
      },
      nowMs,
    );
    const limits = { farm: { 'brood-chilling': { sealedDoseKh: 0.5 } }, sites: {}, nucs: {} };
    const evaluated = evaluateAll([nucInput({ nowMs, signals })], alerts, nowMs, { limits });
    ({ alerts } = evaluated);
    if (evaluated.effects.some(({ kind, ruleId }) => kind === 'raised' && ruleId === 'brood-chilling'))
      return min;
  }
  return null;
}

describe('brood chilling from readings', () => {
  // Under 32 °C from 12:30; half a degree-hour more is reached about 12:59 (∫ 4 °C/h · t dt = 2 t² = 0.5 at t = 0.5 h),
  // and 20 minutes of holding follow: 13:20 at the earliest.
  const inOrder = raisedAt(usual);

  it('is raised after its dose and its hold', () => {
    expect(inOrder).toBeGreaterThanOrEqual(80);
    expect(inOrder).toBeLessThanOrEqual(90);
  });

  it('does not care about duplicates or about pairs that change places', () => {
    expect(raisedAt([...usual, ...usual])).toBe(inOrder);
    const swapped = [...usual].reverse();
    expect(raisedAt(swapped)).toBe(inOrder);
  });

  it('waits for readings that come late, and is then as sure as if they had been in time', () => {
    // A gap that begins before the limit: nothing is known until the batch comes at 13:20; the dose is there at once.
    expect(raisedAt(late(25, 80, 80))).toBe(100);
  });

  it('makes no alert of a sensor that fell silent', () => {
    // The last reading before the silence is over the limit; an hour later it counts as none.
    expect(raisedAt(usual.filter(({ observed }) => observed <= 20))).toBeNull();
  });

  it('goes on with the last value while it is fresh, and no longer', () => {
    // Silent from 13:05 on, its dose reached: the value is twenty minutes old when the hold ends.
    expect(raisedAt(usual.filter(({ observed }) => observed <= 65))).toBe(inOrder);
    // Silent from 12:45 on: the dose was never reached.
    expect(raisedAt(usual.filter(({ observed }) => observed <= 45))).toBeNull();
  });
});

describe('a nest that is cold for a day and then warm', () => {
  it('was cold, and is not news any more', () => {
    const nowMs = noon + 30 * hour;
    const observed = Array.from({ length: 12 * 54 }, (_, i) => -24 * 60 + i * everyMin);
    const series = {
      atMs: Float64Array.from(observed, (min) => noon + min * minute),
      value: Float64Array.from(observed, (min) =>
        min < 0 || min >= 20 * 60 ? 34.5 : Math.max(30, 34.5 - min / 60),
      ),
    };
    const signals = analyseNuc(
      {
        series: { broodC: series },
        place: { latDeg: 52, lonDeg: 10, timeZone: 'Europe/Berlin' },
        events: [],
        broodRegime: () => 'sealed-brood',
      },
      nowMs,
    );
    const looks = evaluateAll([nucInput({ nowMs, signals })], new Map(), nowMs).evaluations;
    const cold = looks.find(({ ruleId }) => ruleId === 'brood-chilling')?.evaluation;
    expect(cold).toMatchObject({ verdict: 'no', clear: true });
  });
});
