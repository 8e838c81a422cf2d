import { describe, expect, it } from 'vitest';
import { binsOf, type Bins } from '../../server/signals/bins.ts';
import { broodDay } from '../../server/signals/brood/brood-day.ts';
import { broodTemperature, expectedBand, silentWhy } from '../../server/signals/brood/brood-temperature.ts';
import { thermalDoses, type DoseInput } from '../../server/signals/chill/chill.ts';
import { minutesToLimit, readsSeldom } from '../../server/signals/chill/cooling.ts';
import { couplingUpTo } from '../../server/signals/brood/coupling.ts';
import { marginPrior, withNights } from '../../server/signals/chill/heat-margin.ts';
import { chillOutlook, type OutlookInput } from '../../server/signals/chill/outlook.ts';
import { probeJumps } from '../../server/signals/brood/probe-jumps.ts';
import { darkHours } from '../../server/signals/nights.ts';
import { dayBefore } from '../../server/signals/days.ts';
import { seriesOf } from '../../server/signals/series.ts';
import type { BroodRegime, Series } from '../../server/signals/types.ts';
import { dayMs, hourMs, made, midnight, minuteMs, outsideC, place, ripple, visitAt } from './made.ts';

const none = binsOf(seriesOf([]));

describe('brood temperature', () => {
  const now = midnight + 3 * dayMs;
  const outside = binsOf(made(midnight, now, (h) => outsideC(h)));
  const nestNow = (regime: BroodRegime, raw: Series | undefined, brood: Bins, around: Bins) =>
    broodTemperature(regime, raw, brood, now, () => couplingUpTo(brood, around, now));
  const nest = (slope: number) =>
    made(midnight, now, (h) => 34.6 + slope * (outsideC(h) - 16) + ripple(h, 0.1));

  it.each([0, 0.2, 0.9])('couples to the outside with slope %f', (slope) => {
    const raw = nest(slope);
    const { coupling } = nestNow('open-brood', raw, binsOf(raw), outside);
    if (!coupling.ok) throw new Error(JSON.stringify(coupling.why));
    expect(Math.abs(coupling.value - slope)).toBeLessThan(0.02);
    expect(coupling.low).toBeLessThanOrEqual(coupling.value);
    expect(coupling.high).toBeGreaterThanOrEqual(coupling.value);
  });

  it('tells level, spread and share in band of the last day', () => {
    const raw = nest(0);
    const t = nestNow('open-brood', raw, binsOf(raw), outside);
    expect(t).toMatchObject({ bandC: { low: 33, high: 36 }, shareInBand: { ok: true, value: 1, high: 1 } });
    expect(t.levelC.ok && Math.abs(t.levelC.value - 34.6) < 0.1).toBe(true);
    expect(t.spreadC.ok && t.spreadC.value < 0.4).toBe(true);
  });

  it.each([5, 15, 30, 60])(
    'counts the hours by the interval of a sensor that reads each %d minutes',
    (everyMin) => {
      const raw = made(midnight, now, (h) => 34.6 + ripple(h, 0.1), everyMin);
      const t = nestNow('open-brood', raw, binsOf(raw), outside);
      expect(t.levelC).toMatchObject({ ok: true, restsOn: ['24 of the last 24 hours'] });
      expect(t.shareInBand).toMatchObject({ ok: true, value: 1 });
    },
  );

  it('expects a band only where there is brood', () => {
    expect(expectedBand('broodless')).toBeNull();
    expect(expectedBand('unknown')).toBeNull();
    expect(expectedBand('sealed-brood')).toEqual({ low: 32.5, high: 36 });
    const raw = nest(0.5);
    expect(nestNow('broodless', raw, binsOf(raw), outside).shareInBand).toMatchObject({
      ok: false,
    });
  });

  it('declines without a sensor, with too few hours, and where the outside stands still', () => {
    expect(nestNow('open-brood', undefined, none, outside)).toMatchObject({
      latestC: null,
      levelC: { ok: false, why: expect.stringContaining('no sensor') as string },
    });
    const short = made(now - 2 * hourMs, now, () => 34);
    expect(nestNow('open-brood', short, binsOf(short), outside).levelC).toMatchObject({
      ok: false,
    });
    const raw = nest(0);
    const flat = binsOf(made(midnight, now, () => 15));
    expect(nestNow('open-brood', raw, binsOf(raw), flat).coupling).toMatchObject({ ok: false });
    expect(nestNow('open-brood', raw, binsOf(raw), none).coupling).toMatchObject({ ok: false });
  });

  it('reads no day out of a handful of values', () => {
    const day = { date: '2025-06-10', fromMs: midnight, toMs: midnight + dayMs };
    expect(broodDay(day, binsOf(made(midnight, midnight + 2 * hourMs, () => 34)))).toBeNull();
    // Every half hour: half of the bins are empty, and the day is covered all the same.
    expect(broodDay(day, binsOf(made(midnight, midnight + dayMs, () => 34, 30)))?.coverage).toBeCloseTo(1, 1);
  });
});

describe('a brood probe that sends the very same value', () => {
  it.each([
    [17, false],
    [18, true],
  ])('for %d hours says nothing of the nest: %s', (hours, silent) => {
    const toMs = midnight + dayMs;
    const moving = made(midnight - dayMs, toMs - hours * hourMs, (h) => 34 + ripple(h, 0.3));
    const still = made(toMs - hours * hourMs, toMs + 1, () => 34.5);
    const raw = {
      atMs: Float64Array.from([...moving.atMs, ...still.atMs]),
      value: Float64Array.from([...moving.value, ...still.value]),
    };
    expect(silentWhy(raw, toMs) !== null).toBe(silent);
    expect(broodTemperature('open-brood', raw, binsOf(raw), toMs, unasked).levelC.ok).toBe(!silent);
  });

  it('before a gap and after it may have moved in between: two readings alike tell nothing', () => {
    const toMs = midnight + dayMs;
    const parts = [
      made(midnight - dayMs, toMs - 21 * hourMs, (h) => 34 + ripple(h, 0.3)),
      made(toMs - 21 * hourMs, toMs - 20 * hourMs, () => 34.5),
      made(toMs - hourMs, toMs + 1, () => 34.5),
    ];
    const raw = {
      atMs: Float64Array.from(parts.flatMap(({ atMs }) => [...atMs])),
      value: Float64Array.from(parts.flatMap(({ value }) => [...value])),
    };
    expect(silentWhy(raw, toMs)).toBeNull();
  });
});

const unasked = () => {
  throw new Error('not asked for');
};

describe('dose of cold and heat', () => {
  const now = midnight + 12 * hourMs;
  const dip = made(midnight, now, (h) => (h >= 9 ? 30 : 34.5));
  const input: DoseInput = { broodC: dip, regime: 'open-brood', events: [], nowMs: now, queenInCage: false };
  const cold = (i: DoseInput) =>
    thermalDoses(i).find((d) => d.what === 'sealed-brood' && d.direction === 'cold');

  it.each([1, 15, 30, 60])('adds the same where the sensor reads each %d minutes', (everyMin) => {
    const broodC = made(midnight, now, (h) => (h >= 9 ? 30 : 34.5), everyMin);
    expect(cold({ ...input, broodC })?.degreeHours).toBeCloseTo(6, 6);
  });

  it('adds degree-hours under the limit and says since when', () => {
    const dose = cold(input);
    // Three hours two degrees under 32 °C; readings stand for five minutes each.
    expect(dose?.degreeHours).toBeCloseTo(6, 6);
    expect(dose).toMatchObject({ beyondNow: true, sinceMs: midnight + 9 * hourMs, nowC: 30, excused: false });
  });
  it('does not count what a visit within the hour explains, and counts on when it lasts', () => {
    const dose = cold({ ...input, events: [visitAt(midnight + 9 * hourMs)] });
    expect(dose?.degreeHours).toBeCloseTo(2 * (2 - 5 / 60), 6);
    expect(dose?.excused).toBe(false);
    const justNow = { ...input, nowMs: midnight + 9.5 * hourMs, events: [visitAt(midnight + 9 * hourMs)] };
    expect(cold(justNow)).toMatchObject({ degreeHours: 0, excused: true });
  });
  it('does not count what the probe read where it lay before a visit moved it', () => {
    const movedMs = midnight + 11 * hourMs;
    expect(cold({ ...input, probeMovedMs: movedMs })?.degreeHours).toBeCloseTo(2, 6);
    // Nor does it count how long it was cold there.
    expect(cold({ ...input, probeMovedMs: movedMs })).toMatchObject({
      beyondNow: true,
      nowC: 30,
      sinceMs: movedMs,
    });
  });
  it('asks for what the stage holds: no brood, no dose; a queen only while she is in the cage', () => {
    expect(thermalDoses({ ...input, regime: 'broodless' })).toEqual([]);
    expect(thermalDoses({ ...input, regime: 'sealed-brood' }).map((d) => d.what)).toEqual([
      'sealed-brood',
      'sealed-brood',
    ]);
    const cage = made(midnight, now, (h) => (h > 11 ? 39 : 30));
    const doses = thermalDoses({ ...input, regime: 'broodless', cageC: cage, queenInCage: true });
    expect(doses.find((d) => d.direction === 'heat')).toMatchObject({ limitC: 38, beyondNow: true });
    expect(doses.find((d) => d.direction === 'cold')).toMatchObject({
      limitC: 15,
      beyondNow: false,
      sinceMs: null,
    });
  });
  it('says nothing of now when nothing was read today', () => {
    const old = { ...input, nowMs: now + 3 * dayMs };
    expect(cold(old)).toMatchObject({ nowC: null, beyondNow: false, degreeHours: 0 });
  });
});

describe('minutes to the limit', () => {
  const now = midnight + 4 * hourMs;
  it('takes a fall as straight where the outside is not known', () => {
    const falling = binsOf(made(midnight, now, (h) => 35 - 0.5 * h, 1));
    const estimate = minutesToLimit(falling, null, 32, now);
    if (!estimate.ok) throw new Error(JSON.stringify(estimate.why));
    // 33 °C now, a kelvin to go at half a kelvin an hour.
    expect(Math.abs(estimate.value - 120)).toBeLessThan(3);
  });
  it.each([5, 10, 15, 30, 60])('finds a fall that is read every %i minutes', (everyMin) => {
    // Five readings take half an hour at the first, five hours at the last.
    const later = now + 4 * hourMs;
    const falling = binsOf(made(midnight, later, (h) => 36 - 0.3 * h, everyMin));
    const nowC = 36 - (0.3 * (later - midnight)) / hourMs;
    const estimate = minutesToLimit(falling, null, nowC - 0.6, later);
    if (!estimate.ok) throw new Error(JSON.stringify(estimate.why));
    expect(Math.abs(estimate.value - 120)).toBeLessThan(6);
    expect(readsSeldom(falling, later)).toBe(everyMin >= 30);
  });
  it('declines on too few readings, a steady nest, or a limit too far', () => {
    const why = (of: (h: number) => number, outside: number | null) =>
      minutesToLimit(binsOf(made(midnight, now, of, 1)), outside, 32, now);
    expect(minutesToLimit(none, 10, 32, now)).toMatchObject({
      ok: false,
      why: expect.stringContaining('few') as string,
    });
    expect(why(() => 34.5, 10)).toMatchObject({ ok: false, why: 'it is not falling' });
    expect(why((h) => 36 - 0.3 * h, 32.5)).toMatchObject({
      ok: false,
      why: expect.stringContaining('does not reach') as string,
    });
    expect(why((h) => 32 - 0.3 * h, 10)).toMatchObject({ ok: true, value: 0 });
  });
});

describe('tonight', () => {
  const nights = [1, 2, 3, 4].map((d) => {
    const date = `2025-06-1${String(d)}`;
    return darkHours(place, date, dayBefore(date));
  });
  const nightAhead = darkHours(place, '2025-06-15', '2025-06-14');
  const now = nightAhead.fromMs - hourMs;
  const outside = binsOf(made(midnight, now, (h) => outsideC(h)));
  const input: OutlookInput = {
    nowMs: now,
    brood: binsOf(made(midnight, now, (h) => 34.6 + ripple(h, 0.1))),
    outside,
    nights,
    nightAhead,
    events: [],
    bees: 4000,
  };
  const told = (minC: number) => ({ minC, byMs: nightAhead.toMs, source: 'a test' });

  it('expects an ordinary night to hold, and one 25 K colder than any to chill', () => {
    const ordinary = chillOutlook(input);
    expect(ordinary).toMatchObject({ basis: 'own-record', forecast: 'persistence' });
    expect(ordinary.chanceBelow).toBeLessThan(0.1);
    const arctic = chillOutlook({ ...input, forecast: told(-15) });
    expect(arctic.forecast).toBe('told');
    expect(arctic.chanceBelow).toBeGreaterThan(0.5);
  });
  it('is the surer of chilling the colder the night is said to be', () => {
    const chances = [12, 6, 0, -6, -12].map(
      (c) => chillOutlook({ ...input, forecast: told(c) }).chanceBelow ?? NaN,
    );
    for (let i = 1; i < chances.length; i++)
      expect(chances[i]).toBeGreaterThanOrEqual(chances[i - 1] as number);
  });
  it('learns from nights on which the nest gave way that the next will be no better', () => {
    // 14 K above the outside of two hours ago is all that these bees can hold.
    const weak = made(midnight, now, (h) => Math.min(34.6, outsideC(h - 2) + 14));
    const outlook = chillOutlook({ ...input, brood: binsOf(weak), forecast: told(9) });
    expect(outlook.chanceBelow).toBeGreaterThan(0.9);
    expect(outlook.tonightMinC.ok && Math.abs(outlook.tonightMinC.value - 24) < 2.5).toBe(true);
  });
  it('goes by the heat budget before there are nights, and by nothing without a number of bees', () => {
    expect(chillOutlook({ ...input, nights: [] }).basis).toBe('heat-budget');
    const { bees: _, ...unknown } = input;
    expect(chillOutlook({ ...unknown, nights: [] })).toMatchObject({ basis: 'none', chanceBelow: null });
    expect(chillOutlook({ ...unknown, nights }).basis).toBe('own-record');
  });
  it('leaves out nights with a visit', () => {
    const { bees: _, ...unknown } = input;
    const events = nights.map((night) => visitAt(night.fromMs + hourMs));
    expect(chillOutlook({ ...unknown, events }).basis).toBe('none');
  });
  it('leaves out nights before a visit at which the probe came to lie elsewhere', () => {
    const { bees: _, ...unknown } = input;
    // Outside of the brood for three days and a half; in it since the visit, and as warm as any nest.
    const atMs = midnight + 3.5 * dayMs;
    const brood = binsOf(made(midnight, now, (h) => (h < 84 ? outsideC(h) + 8 : 34.6)));
    const stayed = chillOutlook({ ...unknown, brood });
    expect(stayed).toMatchObject({ basis: 'own-record' });
    expect(stayed.chanceBelow).toBeGreaterThan(0.5);
    const events = [visitAt(atMs)];
    expect(chillOutlook({ ...unknown, brood, events })).toMatchObject({ basis: 'none', chanceBelow: null });
    expect(chillOutlook({ ...input, brood, events })).toMatchObject({ basis: 'heat-budget' });
  });
  it('counts a night from its dawn on, not from half a day later', () => {
    const { bees: _, ...unknown } = input;
    const [two, three] = [nights.slice(0, 2), nights.slice(0, 3)];
    const dawnMs = three[2]!.toMs;
    const ahead = nights[3]!;
    const at = (nowMs: number, over: typeof nights) =>
      chillOutlook({ ...unknown, nowMs, nights: over, nightAhead: ahead });
    expect(at(dawnMs - hourMs, two).basis).toBe('none');
    expect(at(dawnMs + hourMs, three).basis).toBe('own-record');
    // What it says of the night ahead does not change at noon.
    expect(at(dawnMs + 11 * hourMs, three).chanceBelow).toBeCloseTo(
      at(dawnMs + 13 * hourMs, three).chanceBelow ?? NaN,
      2,
    );
  });
  it('leaves out the hours of the night that is under way in which the probe was in doubt', () => {
    const nowMs = nightAhead.fromMs + 5 * hourMs;
    const backMs = nightAhead.fromMs + 2 * hourMs;
    const air = (fromMs: number) =>
      binsOf(made(fromMs, nowMs, (h) => outsideC(h + (fromMs - midnight) / hourMs)));
    const brood = binsOf(
      made(midnight, nowMs, (h) =>
        h > (backMs - midnight) / hourMs - 4 && h < (backMs - midnight) / hourMs ? 22 : 34.6,
      ),
    );
    const doubted = {
      ...input,
      nowMs,
      brood,
      outside: air(midnight),
      doubts: [{ fromMs: backMs - 4 * hourMs, toMs: backMs }],
    };
    const unread = { ...doubted, brood: binsOf(made(midnight, nowMs, () => 34.6)) };
    expect(chillOutlook(doubted).chanceBelow).toBeCloseTo(chillOutlook(unread).chanceBelow ?? NaN, 6);
  });
  it('takes nights before a doubt that has ended for the nest’s own, and those in it for nobody’s', () => {
    const hours = (fromH: number, toH: number) => {
      const atMs = (h: number) => nightAhead.fromMs + h * hourMs;
      const brood = binsOf(
        made(midnight, input.nowMs, (h) => {
          const ms = midnight + h * hourMs;
          return ms > atMs(fromH) && ms < atMs(toH) ? 22 : 34.6;
        }),
      );
      return chillOutlook({ ...input, brood, doubts: [{ fromMs: atMs(fromH), toMs: atMs(toH) }] });
    };
    const evening = hours(-8, -4);
    expect(evening.basis).toBe('own-record');
    expect(evening.chanceBelow).toBeCloseTo(chillOutlook(input).chanceBelow ?? NaN, 2);
    expect(hours(-100, -4).basis).toBe('heat-budget');
  });
  it('declines without brood, and without outside and forecast', () => {
    expect(chillOutlook({ ...input, brood: none })).toMatchObject({
      basis: 'none',
      tonightMinC: { ok: false },
    });
    expect(chillOutlook({ ...input, outside: none })).toMatchObject({ basis: 'none', forecast: 'none' });
    // What the nest's own falls come to is known without it.
    expect(chillOutlook({ ...input, outside: none }).falls).toBe(chillOutlook(input).falls);
    expect(chillOutlook({ ...input, outside: none }).falls).toBeDefined();
    // Persistence of one day only, too.
    expect(chillOutlook({ ...input, nights: [] }).tonightMinC.ok).toBe(true);
  });
  it('keeps the margin a distribution', () => {
    const margin = withNights(marginPrior(undefined), [{ ageDays: 1, heldK: 20, gaveWay: false }]);
    expect(margin.weight.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
    const under = margin.gridK.reduce((sum, k, i) => (k < 17 ? sum + (margin.weight[i] as number) : sum), 0);
    expect(under).toBeLessThan(0.05);
  });
});

describe('probe jumps', () => {
  it('are seen across a visit and only there', () => {
    const at = midnight + 12 * hourMs;
    const moved = binsOf(made(midnight, midnight + dayMs, (h) => (h < 12 ? 34.5 : 29)));
    expect(probeJumps(moved, [visitAt(at)])).toMatchObject([{ atMs: at, fromC: 34.5, toC: 29 }]);
    expect(probeJumps(moved, [visitAt(at - 6 * hourMs)])).toEqual([]);
    expect(probeJumps(moved, [visitAt(midnight + 10 * minuteMs)])).toEqual([]);
  });

  // On the open series of montreal and sydney-temp one visit in eight that nobody made was a move before, at the hours of 9 to 17.
  const swinging = (h: number): number => 34 - (h % 24 < 10 ? 2.5 : 0);
  const swings = (movedH = Infinity, byK = 0): Bins =>
    binsOf(made(midnight, midnight + 5 * dayMs, (h) => swinging(h) + (h < movedH ? 0 : byK)));
  const atTen = (day: number) => visitAt(midnight + day * dayMs + 10 * hourMs);

  it('are none where the nest warms by as much at these hours on other days', () => {
    expect(probeJumps(swings(), [atTen(3)])).toEqual([]);
    // On the first day that was read the days after it tell so.
    expect(probeJumps(swings(), [atTen(0)])).toEqual([]);
    expect(probeJumps(swings(), [atTen(1), atTen(2), atTen(3)])).toEqual([]);
  });
  it('are seen in such a nest, too, up and down', () => {
    const at = 3 * 24 + 10;
    expect(probeJumps(swings(at, 2), [atTen(3)])).toMatchObject([{ fromC: 31.5, toC: 36 }]);
    expect(probeJumps(swings(at, -5), [atTen(3)])).toMatchObject([{ fromC: 31.5, toC: 29 }]);
  });
  it('of the day before do not hide another', () => {
    const twice = binsOf(
      made(midnight, midnight + 5 * dayMs, (h) => 35 - (h < 2 * 24 + 10 ? 0 : 3) - (h < 3 * 24 + 10 ? 0 : 3)),
    );
    expect(probeJumps(twice, [atTen(2), atTen(3)])).toMatchObject([{ toC: 32 }, { fromC: 32, toC: 29 }]);
  });
});
