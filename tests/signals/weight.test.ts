import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyseNuc, type AnalysisInput } from '../../server/signals/analyse.ts';
import { binsOf } from '../../server/signals/bins.ts';
import {
  flightBetween,
  flightHoursSince,
  hoursAt,
  joinFlights,
  rainIn,
} from '../../server/signals/drift/flight.ts';
import { isSure, massDepartures } from '../../server/signals/weight/mass-departure.ts';
import { nightWeight } from '../../server/signals/weight/night-weight.ts';
import { darkHours } from '../../server/signals/nights.ts';
import { dayLoss, robbing, type DayLoss } from '../../server/signals/weight/robbing.ts';
import { seriesOf } from '../../server/signals/series.ts';
import { fitStep } from '../../server/signals/weight/step-size.ts';
import { boxAway } from '../../server/signals/weight/box-away.ts';
import { nightsWithoutSteps, stores } from '../../server/signals/weight/stores.ts';
import type { NightWeight, Series, WeightStep } from '../../server/signals/types.ts';
import { weightSteps } from '../../server/signals/weight/weight-steps.ts';
import { dayMs, hourMs, made, midnight, minuteMs, outsideC, place, ripple, visitAt } from './made.ts';

const noon = midnight + 12 * hourMs;
const end = midnight + dayMs;
const steps = (weight: Series, more: Parameters<typeof weightSteps>[3] = { events: [] }) =>
  weightSteps(weight, midnight, end, more);
const box = (of: (h: number) => number, everyMin = 5) =>
  made(midnight, end, (h) => 15_000 - 4 * h + ripple(h, 8) + of(h), everyMin);

describe('weight steps', () => {
  it.each([1, 5, 10])('of 500 g are found and sized within 30 g at a reading every %i minutes', (every) => {
    const found = steps(box((h) => (h >= 12 ? 500 : 0), every));
    expect(found).toHaveLength(1);
    expect(Math.abs((found[0] as WeightStep).sizeG - 500)).toBeLessThan(30);
    expect(found[0]).toMatchObject({ kind: 'added' });
    expect(Math.abs((found[0] as WeightStep).atMs - noon)).toBeLessThanOrEqual(10 * minuteMs);
  });
  it('are not made of noise, of the morning’s departure, or of rain on the roof', () => {
    expect(steps(box(() => 0))).toEqual([]);
    expect(steps(box((h) => -150 * Math.max(0, Math.min(1, (h - 7) / 1.5))))).toEqual([]);
    const shower = box((h) => (h > 14 ? 180 : 0));
    const rain = made(midnight, end, (h) => (h > 13.9 && h < 14.3 ? 0.6 : 0));
    expect(steps(shower, { events: [], rain })).toEqual([]);
    expect(steps(shower)).toHaveLength(1);
  });
  it('are not made of a gust that one reading caught, by itself or during a shower', () => {
    const gust = (grams: number) => (h: number) => (Math.abs(h - 14.1) < 0.008 ? grams : 0);
    const rain = made(midnight, end, (h) => (h > 13.9 && h < 14.3 ? 0.6 : 0));
    expect(steps(box(gust(-450), 1))).toEqual([]);
    expect(steps(box(gust(450), 1))).toEqual([]);
    expect(
      steps(
        box((h) => gust(500)(h) + (h > 14.05 ? 180 : 0), 1),
        { events: [], rain },
      ),
    ).toEqual([]);
    // A hand that lifts the box for a minute, and a box open at the one reading that a slow sensor took.
    expect(steps(box(gust(-2500), 1)).map((s) => s.kind)).toEqual(['opened']);
    expect(steps(box((h) => (Math.abs(h - 14) < 0.01 ? -900 : 0), 10)).map((s) => s.kind)).toEqual([
      'opened',
    ]);
  });
  it('bear the name of what happened', () => {
    const kind = (of: (h: number) => number, more?: Parameters<typeof weightSteps>[3]) =>
      steps(box(of, 1), more).map((s) => s.kind);
    const open = (h: number) => (h > 12 && h < 12.15 ? -2500 : 0);
    expect(kind(open)).toEqual(['opened']);
    expect(kind((h) => open(h) + (h >= 12.15 ? 700 : 0), { events: [visitAt(noon)] })).toEqual(['added']);
    expect(kind((h) => open(h) + (h >= 12.15 ? -900 : 0), { events: [visitAt(noon)] })).toEqual(['taken']);
    expect(kind((h) => (h > 12 ? -900 : 0))).toEqual(['taken']);
    expect(kind((h) => (h > 12 ? 1500 : 0), { events: [{ atMs: noon, kind: 'fed' }] })).toEqual(['fed']);
    expect(kind((h) => (h > 12 && h < 12.1 ? -14_990 : 0))).toEqual(['lifted']);
    expect(kind((h) => (h > 12 ? -11_000 : 0))).toEqual(['toppled']);
    expect(kind((h) => (h > 12 ? -14_940 : 0))).toEqual(['gone']);
  });
  it('take the nearest logged event for their reason, within three quarters of an hour', () => {
    const near = visitAt(noon + 20 * minuteMs);
    const found = steps(
      box((h) => (h > 12 ? 600 : 0)),
      { events: [visitAt(noon + 40 * minuteMs), near, visitAt(noon + 3 * hourMs)] },
    );
    expect(found[0]?.explainedBy).toEqual(near);
    expect(
      steps(
        box((h) => (h > 12 ? 600 : 0)),
        { events: [visitAt(noon + 2 * hourMs)] },
      )[0]?.explainedBy,
    ).toBeUndefined();
  });
  it('are told across a gap as unexplained, if larger than what bees may have done in it', () => {
    const gap = (size: number): Series => {
      const all = box((h) => (h > 12 ? size : 0));
      const keep = [...all.atMs].flatMap((at, i) =>
        at > noon - hourMs && at < noon + hourMs ? [] : [{ atMs: at, value: all.value[i] as number }],
      );
      return seriesOf(keep);
    };
    expect(steps(gap(800)).map((s) => s.kind)).toEqual(['unexplained']);
    expect(steps(gap(160))).toEqual([]);
  });
  it('leave bees that went together to those who look for them', () => {
    expect(steps(box((h) => -600 * Math.max(0, Math.min(1, (h - 12) / 0.5))))).toEqual([]);
  });
  it('need three readings on a side, and an interval', () => {
    expect(steps(seriesOf([{ atMs: noon, value: 1 }]))).toEqual([]);
    expect(fitStep([1, 2, 3, 4], [1, 1, 5, 5], 2, 3)).toBeNull();
  });
  it('move with zero and scale with the unit, and never give what is not a number', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 8, maxLength: 40 }),
        fc.double({ min: -2000, max: 2000, noNaN: true }),
        fc.integer({ min: -5000, max: 5000 }),
        (noise, jump, shift) => {
          const at = noise.map((_, i) => i * 5 * minuteMs);
          const half = noise.length >> 1;
          const value = noise.map((v, i) => v + (i >= half ? jump : 0));
          const from = at[half - 1] as number;
          const to = at[half] as number;
          const here = fitStep(at, value, from, to)!;
          const there = fitStep(
            at,
            value.map((v) => v + shift),
            from,
            to,
          )!;
          for (const v of [here.sizeG, here.sdG, here.beforeG]) expect(Number.isFinite(v)).toBe(true);
          // Rounding of the shifted values only.
          expect(Math.abs(here.sizeG - there.sizeG)).toBeLessThan(1e-3);
        },
      ),
    );
  });
});

describe('night weight', () => {
  const quiet = darkHours(place, '2025-06-11', '2025-06-10');
  it('reads level and slope through spikes', () => {
    const weight = binsOf(made(midnight, midnight + 2 * dayMs, (h) => 15_000 - 5 * h + ripple(h, 5)));
    const night = nightWeight('2025-06-11', quiet, weight)!;
    expect(Math.abs(night.slopeGPerH + 5)).toBeLessThan(0.8);
    expect(Math.abs(night.levelG - (15_000 - (5 * (quiet.toMs - midnight)) / hourMs))).toBeLessThan(6);
    expect(night.coverage).toBeGreaterThan(0.95);
  });
  it('declines where too little of the night is covered', () => {
    expect(
      nightWeight('2025-06-11', quiet, binsOf(made(quiet.fromMs, quiet.fromMs + 1.5 * hourMs, () => 1))),
    ).toBeNull();
  });
  it('reads the same night every 15, 30 and 60 minutes, each reading standing for the interval of its scale', () => {
    for (const everyMin of [15, 30, 60]) {
      const series = made(midnight, midnight + 2 * dayMs, (h) => 15_000 - 5 * h + ripple(h, 5), everyMin);
      const night = nightWeight('2025-06-11', quiet, binsOf(series))!;
      expect(night.coverage, String(everyMin)).toBeGreaterThan(0.9);
      expect(Math.abs(night.slopeGPerH + 5)).toBeLessThan(2);
      expect(Math.abs(night.levelG - (15_000 - (5 * (quiet.toMs - midnight)) / hourMs))).toBeLessThan(12);
    }
  });
  it('counts a gap as a gap at any interval, and reads nothing from a scale that tells its weight every two hours', () => {
    const half = quiet.fromMs + (quiet.toMs - quiet.fromMs) / 2;
    const everyMinutes = (everyMin: number, toMs: number) =>
      nightWeight('2025-06-11', quiet, binsOf(made(midnight, toMs, () => 15_000, everyMin)));
    expect(everyMinutes(30, half)!.coverage).toBeCloseTo(0.5, 1);
    expect(everyMinutes(120, quiet.toMs)).toBeNull();
  });
  it('takes the six darkest hours where night never falls, and the dark of winter where day never breaks', () => {
    const north = { ...place, latDeg: 68 };
    const night = darkHours(north, '2025-06-21', '2025-06-20');
    expect(night.toMs - night.fromMs).toBe(6 * hourMs);
    const white = darkHours({ ...place, latDeg: 61 }, '2025-06-21', '2025-06-20');
    expect(white.toMs - white.fromMs).toBe(6 * hourMs);
  });
});

describe('flight', () => {
  const outside = binsOf(made(midnight, end, () => 21));
  it('is by day, in warmth, without rain', () => {
    const warm = flightBetween(place, midnight, end, outside);
    expect(warm.activity[12 * 6]).toBe(1);
    expect(warm.activity[0]).toBe(0);
    const cold = flightBetween(place, midnight, end, binsOf(made(midnight, end, () => 11)));
    expect(Math.max(...cold.activity)).toBe(0);
    const wet = flightBetween(
      place,
      midnight,
      end,
      outside,
      made(midnight, end, () => 0.2),
    );
    expect(Math.max(...wet.activity)).toBe(0);
    expect(rainIn(undefined, 0, 1)).toBe(false);
  });
  it('is guessed at half where no thermometer tells, and says so', () => {
    const guessed = flightBetween(place, midnight, end, binsOf(seriesOf([])));
    expect(guessed.activity[12 * 6]).toBe(0.5);
    expect(guessed.guessed[12 * 6]).toBe(1);
  });
  it('adds up over joined days, straight between bins', () => {
    const morning = flightBetween(place, midnight, noon, outside);
    const rest = flightBetween(place, noon, end, outside);
    const joined = joinFlights([morning, rest]);
    const whole = flightBetween(place, midnight, end, outside);
    expect(joined.activity).toEqual(whole.activity);
    const hours = flightHoursSince(joined, noon);
    expect(hoursAt(joined, hours, noon + 25 * minuteMs)).toBeCloseTo(25 / 60, 9);
    expect(hoursAt(joined, hours, midnight - 1)).toBe(0);
    expect(hoursAt(joined, hours, end + dayMs)).toBe(hours.at(-1));
    expect(joinFlights([]).activity).toHaveLength(0);
    expect(hoursAt(joinFlights([]), new Float64Array(0), 5)).toBe(0);
  });
});

describe('left in a mass', () => {
  const flight = flightBetween(place, midnight, end, binsOf(made(midnight, end, () => 20)));
  const going =
    (grams: number, hoursLong: number, from = 12) =>
    (h: number) =>
      -grams * Math.max(0, Math.min(1, (h - from) / hoursLong));
  const look = (of: (h: number) => number, brood?: Series, more = {}) =>
    massDepartures({
      weight: binsOf(box(of)),
      brood: binsOf(brood ?? seriesOf([])),
      flight,
      steps: [],
      fromMs: midnight,
      toMs: end,
      ...more,
    });

  it('is a fall of some hundred grams within the half hour by day, once', () => {
    const found = look(going(700, 0.4));
    expect(found).toHaveLength(1);
    expect(Math.abs((found[0]?.lossG ?? 0) - 700)).toBeLessThan(60);
    expect(found[0]?.temperatureFollowed).toBeNull();
  });
  it('says whether the nest cooled after it', () => {
    const cooling = made(midnight, end, (h) => (h < 12.5 ? 34.5 : 33));
    expect(look(going(700, 0.4), cooling)[0]?.temperatureFollowed).toBe(true);
    expect(
      look(
        going(700, 0.4),
        made(midnight, end, () => 34.5),
      )[0]?.temperatureFollowed,
    ).toBe(false);
  });
  it('is sure an hour later where more are away than ever fly at once, and else once dusk came', () => {
    const [many] = look(going(700, 0.4), undefined, { beesG: 700, mostBeesG: 1200 });
    const [some] = look(going(450, 0.4), undefined, { beesG: 700, mostBeesG: 1200 });
    if (!many || !some) throw new Error('nothing is found');
    const after = (hours: number): number => many.toMs + hours * hourMs;
    expect([0.9, 1.1].map((hours) => isSure(many, after(hours)))).toEqual([false, true]);
    expect([1.1, 4, 10].map((hours) => isSure(some, after(hours)))).toEqual([false, false, true]);
    const unknown = look(going(700, 0.4))[0];
    expect(unknown && isSure(unknown, after(4))).toBe(false);
  });
  it('is not foragers who come back, nor a night’s fall, nor a step, nor little beside the bees there are', () => {
    expect(look((h) => going(500, 0.5)(h) + 500 * Math.max(0, Math.min(1, (h - 12.8) / 0.5)))).toEqual([]);
    expect(look(going(700, 0.4, 1))).toEqual([]);
    const step: WeightStep = { atMs: noon, sizeG: -700, sizeSdG: 5, kind: 'taken' };
    expect(look(going(700, 0.4), undefined, { steps: [step] })).toEqual([]);
    expect(look(going(400, 0.4), undefined, { beesG: 2000 })).toEqual([]);
  });
  it('is no more than the bees of this box can weigh, with what they carry', () => {
    expect(look(going(1600, 0.4), undefined, { beesG: 1200 })).toHaveLength(1);
    expect(look(going(2000, 0.4), undefined, { beesG: 1200 })).toEqual([]);
    expect(look(going(3300, 0.4))).toHaveLength(1);
    expect(look(going(3800, 0.4))).toEqual([]);
  });
  it('is not the end of a hump: it must lie under the hours before', () => {
    const ramp = (h: number, from: number, hours: number) => Math.max(0, Math.min(1, (h - from) / hours));
    const hump = (h: number) => 700 * ramp(h, 9, 2) - 700 * ramp(h, 12, 0.5);
    expect(look(hump)).toEqual([]);
    expect(look((h) => hump(h) - 700 * ramp(h, 12, 0.4))).toHaveLength(1);
  });
  it.each([5, 10, 30, 60])(
    'is told from a hand by the brood where it falls between two readings, one in %i minutes',
    (everyMin) => {
      const said = (grams: number, coldest: number, events: AnalysisInput['events'] = []) =>
        analyseNuc(
          {
            series: {
              weightG: box((h) => (h > 12.01 ? -grams : 0), everyMin),
              broodC: made(midnight, end, (h) => Math.max(coldest, 34.5 - 3 * Math.max(0, h - 12)), everyMin),
            },
            place,
            events,
            framesOfBees: 4,
            broodRegime: () => 'sealed-brood',
          },
          noon + 6 * hourMs,
        );
      const gone = said(600, 24);
      expect(gone.massDepartures).toMatchObject([{ likeAHand: true, temperatureFollowed: true }]);
      expect(Math.abs((gone.massDepartures[0]?.lossG ?? 0) - 600)).toBeLessThan(60);
      // One thing is said of the same grams.
      expect(gone.steps).toEqual([]);
      // A comb taken out: the nest is warm again; so light a loss is no mass; and what is logged is the keeper's.
      for (const hand of [said(600, 33.8), said(260, 24), said(600, 24, [visitAt(noon)])]) {
        expect(hand.massDepartures).toEqual([]);
        expect(hand.steps).toHaveLength(1);
      }
    },
  );
  it('is undone when the weight comes back, and is told when they would be home', () => {
    const back = (h: number) => going(700, 0.4)(h) + 700 * Math.max(0, Math.min(1, (h - 16) / 2));
    expect(look(back)).toEqual([]);
    // A box that is taken off in between does not hide that they come home.
    const lessBox = (h: number) => back(h) - (h < 15 ? 0 : 5000);
    const taken: WeightStep = {
      atMs: noon + 175 * minuteMs,
      untilMs: noon + 3 * 60 * minuteMs,
      sizeG: -5000,
      sizeSdG: 20,
      kind: 'taken',
    };
    expect(look(lessBox, undefined, { steps: [taken] })).toEqual([]);
    expect(look((h) => going(700, 0.4)(h) - (h < 15 ? 0 : 5000), undefined, { steps: [taken] })).toHaveLength(
      1,
    );
    const [found] = look(going(700, 0.4));
    const homeH = ((found?.homeByMs ?? 0) - midnight) / 3_600_000;
    expect(homeH).toBeGreaterThan(18);
    expect(homeH).toBeLessThan(22);
  });
});

describe('robbing', () => {
  const day = (date: string, lossG: number): DayLoss => ({
    date,
    lossG,
    fastestGPerH: lossG / 4,
    open: false,
  });
  it('is found on the second day of it, not on the first', () => {
    const quietDays = ['01', '02', '03'].map((d) => day(`2025-06-${d}`, 40));
    const one = robbing([...quietDays, day('2025-06-04', 900)]);
    expect(one).toMatchObject({ underWay: false, days: [{ date: '2025-06-04' }] });
    expect(robbing([...quietDays, day('2025-06-04', 900), day('2025-06-05', 1100)]).underWay).toBe(true);
    // Days later, with a silent scale, nothing is under way.
    const robbed = [...quietDays, day('2025-06-04', 900), day('2025-06-05', 1100)];
    expect(robbing(robbed, '2025-06-06').underWay).toBe(true);
    expect(robbing(robbed, '2025-06-08').underWay).toBe(false);
    expect(robbing(quietDays)).toMatchObject({
      underWay: false,
      days: [],
      why: 'no day lost more than a nuc eats',
    });
    expect(robbing([])).toMatchObject({ underWay: false });
  });
  it('reads no day without its night, or with the box off its scale', () => {
    const daily = {
      date: '2025-06-04',
      departureAtMs: null,
      minimumAtMs: null,
      depthG: null,
      eveningAtMs: null,
      netG: -500,
      coverage: 1,
    };
    const night: NightWeight = {
      date: '2025-06-04',
      fromMs: 0,
      toMs: 1,
      levelG: 12_000,
      slopeGPerH: -4,
      residualG: 4,
      readings: 90,
      coverage: 1,
    };
    const departure = {
      fromMs: 0,
      toMs: 1,
      lossG: 450,
      lossSdG: 9,
      temperatureFollowed: true,
      homeByMs: null,
      why: '',
    };
    expect(dayLoss(daily, null, null, [], [], 0, false)).toBeNull();
    expect(dayLoss({ ...daily, netG: null }, night, null, [], [], 0, true)).toBeNull();
    expect(dayLoss({ ...daily, netG: null }, night, 11_800, [], [], 0, true)?.lossG).toBe(200);
    expect(
      dayLoss(daily, night, null, [], [{ atMs: 0, sizeG: -9000, sizeSdG: 9, kind: 'toppled' }], 0, false),
    ).toBeNull();
    expect(dayLoss(daily, night, null, [departure], [], 90, false)?.lossG).toBe(50);
  });
});

describe('stores', () => {
  const night = (k: number, levelG: number): NightWeight => ({
    date: `2025-06-0${String(k)}`,
    fromMs: k * dayMs - 8 * hourMs,
    toMs: k * dayMs,
    levelG,
    slopeGPerH: -3,
    residualG: 5,
    readings: 90,
    coverage: 1,
  });
  const falling = [1, 2, 3, 4, 5].map((k) => night(k, 12_000 - 60 * k));
  it('last as long as the present rate allows', () => {
    const s = stores({ nights: falling, grossG: 11_700, tareG: 8000 });
    if (!s.daysLeft.ok || !s.storesG.ok || !s.consumptionGPerDay.ok) throw new Error('declined');
    expect(s.consumptionGPerDay.value).toBeCloseTo(60, 6);
    expect(s.daysLeft.value).toBeCloseTo(s.storesG.value / 60, 6);
    expect(s.daysLeft.low).toBeLessThan(s.daysLeft.value);
    expect(s.daysLeft.high).toBeGreaterThan(s.daysLeft.value);
  });
  it('take no step for food eaten', () => {
    const fed: WeightStep = { atMs: 3.4 * dayMs, sizeG: 1000, sizeSdG: 9, kind: 'fed' };
    const raised = falling.map((n) => (n.toMs > fed.atMs ? { ...n, levelG: n.levelG + 1000 } : n));
    const rate = stores({
      nights: nightsWithoutSteps(raised, [fed]),
      grossG: 12_700,
      tareG: 8000,
    }).consumptionGPerDay;
    expect(rate.ok && Math.abs(rate.value - 60) < 1e-6).toBe(true);
  });
  it('are not told of a box that left its scale, until it is back', () => {
    const away = { atMs: end - hourMs, sizeG: -9000, sizeSdG: 20, kind: 'toppled' as const };
    const back = { ...away, atMs: end, sizeG: 8900, kind: 'unexplained' as const };
    expect([boxAway([away]), boxAway([away, back]), boxAway([back])]).toEqual([away, undefined, undefined]);
    const { daysLeft, storesG } = stores({
      nights: falling,
      grossG: 11_700,
      tareG: 8000,
      boxAwaySinceMs: away.atMs,
    });
    expect([daysLeft.ok, storesG.ok]).toEqual([false, false]);
  });
  it('decline on what is missing, with the reason', () => {
    const why = (input: Parameters<typeof stores>[0]) => {
      const { daysLeft } = stores(input);
      return daysLeft.ok ? '' : daysLeft.why;
    };
    expect(why({ nights: falling, grossG: null, tareG: 8000 })).toContain('not read a full night');
    const silent = stores({ nights: falling, grossG: 11_700, tareG: 8000, silentSinceMs: end });
    for (const one of Object.values(silent)) expect(one).toMatchObject({ ok: false });
    expect(why({ nights: falling, grossG: 11_700 })).toContain('empty box');
    const two = { nights: falling.slice(0, 2), grossG: 11_700, tareG: 8000 };
    expect(why(two)).toMatch(/fewer than 3 nights$/);
    expect(why({ ...two, leavingNights: true })).toMatch(/fewer than 3 nights since the foragers left$/);
    expect(
      why({
        nights: falling.map((n, k) => ({ ...n, levelG: 12_000 + 90 * k })),
        grossG: 11_700,
        tareG: 8000,
      }),
    ).toContain('gaining');
    expect(
      why({ nights: falling.map((n) => ({ ...n, levelG: 12_000 })), grossG: 11_700, tareG: 8000 }),
    ).toContain('too small');
  });
});

describe('a day outside', () => {
  it('of the tests is coldest at five', () => expect(outsideC(5)).toBe(10));
});
