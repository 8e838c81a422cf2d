import { describe, expect, it } from 'vitest';
import { analyseNuc, type AnalysisInput } from '../../server/signals/analyse.ts';
import type { ForagerDrift, NucSeries, Series } from '../../server/signals/types.ts';
import type { Sentence } from '../../server/words/phrase.ts';
import { dayMs, hourMs, made, midnight, outsideC, place, ripple, visitAt } from './made.ts';
import { simulatedCase } from './simulated.ts';

const plain = (sentence: Sentence): string =>
  (typeof sentence === 'string' ? [sentence] : sentence)
    .map((part) => (typeof part === 'string' ? part : String(part.value)))
    .join('');

const movedAtMs = midnight + 11 * hourMs;
const hourOf = (h: number) => (11 + h) % 24;

/** Hours since the move between two o’clocks of each day. */
const hoursFlown = (h: number, from: number, to: number): number =>
  Array.from({ length: 1 + Math.floor((11 + h) / 24) }, (_, day) =>
    Math.max(0, Math.min(to, 11 + h - 24 * day) - from),
  ).reduce((sum, hours) => sum + hours, 0);

/** 15 kg, 4 g an hour eaten, 150 g of foragers gone by a time constant of three hours of flight in 14-20 °C. */
function moved(
  days: number,
  more: { meanC?: number; extra?: (h: number) => number; without?: (keyof NucSeries)[] } = {},
): AnalysisInput {
  const air = (h: number) => outsideC(hourOf(h), more.meanC ?? 17, 4);
  let flown = 0;
  let last = 0;
  const weightG = made(movedAtMs, movedAtMs + days * dayMs, (h) => {
    const flying = hourOf(h) > 6 && hourOf(h) < 20 ? Math.max(0, Math.min(1, (air(h) - 12) / 8)) : 0;
    flown += flying * (h - last);
    last = h;
    return (
      15_000 -
      4 * h -
      150 * (1 - Math.exp(-flown / 3)) +
      5 * (air(h) - 17) +
      ripple(h, 8) +
      (more.extra?.(h) ?? 0)
    );
  });
  const all: NucSeries = { weightG, outsideC: made(movedAtMs, movedAtMs + days * dayMs, air) };
  const series = Object.fromEntries(
    Object.entries(all).filter(([name]) => !more.without?.includes(name as keyof NucSeries)),
  ) as NucSeries;
  return {
    series,
    place,
    events: [{ atMs: movedAtMs, kind: 'moved' }],
    movedAtMs,
    broodRegime: () => 'open-brood',
    framesOfBees: 3,
  };
}

const drift = (input: AnalysisInput, days: number): ForagerDrift =>
  analyseNuc(input, movedAtMs + days * dayMs).drift;

describe('forager drift', () => {
  it('finds 150 g that left, with the truth in its interval, and the scale’s 5 g/K', () => {
    const input = moved(5);
    const { drift: found, scaleTemperature } = analyseNuc(input, movedAtMs + 5 * dayMs);
    expect(found.state).toBe('gone');
    if (!found.massG.ok || !found.bees.ok || !scaleTemperature.ok) throw new Error('declined');
    // Stragglers that leave late look like what is eaten: a wider answer than the noise of this scale asks for.
    expect(Math.abs(found.massG.value - 150)).toBeLessThan(40);
    expect(found.massG.low).toBeLessThan(150);
    expect(found.massG.high).toBeGreaterThan(150);
    expect(Math.abs(scaleTemperature.value - 5)).toBeLessThan(1);
    expect(found.curve.length).toBeGreaterThan(10);
    for (const point of found.curve) {
      expect(point.lowG).toBeLessThanOrEqual(point.massG);
      expect(point.highG).toBeGreaterThanOrEqual(point.massG);
    }
  });
  it('is not led by a frame put in and another taken out between', () => {
    const input = moved(5, { extra: (h) => (h > 30 ? 1000 : 0) - (h > 55 ? 700 : 0) });
    const events = [...input.events, visitAt(movedAtMs + 30 * hourMs), visitAt(movedAtMs + 55 * hourMs)];
    const { massG } = drift({ ...input, events }, 5);
    expect(massG.ok && massG.low < 150 && massG.high > 150).toBe(true);
  });
  it('does not tell the mass once it was fed, or a load was put on that nobody logged; the weather still says how far', () => {
    const input = moved(5, { extra: (h) => (h > 30 ? 1000 : 0) });
    const fed = {
      ...input,
      events: [...input.events, { atMs: movedAtMs + 30 * hourMs, kind: 'fed' as const }],
    };
    for (const [nuc, why] of [
      [fed, 'fed'],
      [input, 'not logged'],
    ] as const) {
      const found = drift(nuc, 5);
      expect(found).toMatchObject({ state: 'gone', massG: { ok: false }, bees: { ok: false } });
      expect(found.completeness).toEqual(found.byWeather);
      expect(plain(found.massG.ok ? '' : found.massG.why)).toContain(why);
    }
  });
  it('says that its mass holds where no strange bees came in: by weight they hide as many that left', () => {
    const { massG, completeness } = drift(moved(5), 5);
    const said = (of: typeof massG): string => (of.ok ? of.restsOn.map(plain).join() : 'declined');
    expect(said(massG)).toContain('no strange bees coming in');
    expect(said(completeness)).not.toContain('strange');
  });
  it('does not tell the mass where honey is carried off or other bees come in', () => {
    const byDay = (gPerH: number) => (h: number) =>
      Array.from({ length: Math.max(0, Math.floor(h) - 24) }, (_, k) => hourOf(k + 24)).filter(
        (at) => at > 9 && at < 17,
      ).length * gPerH;
    expect(drift(moved(5, { extra: byDay(-90) }), 5).massG.ok).toBe(false);
    expect(drift(moved(5, { extra: byDay(30) }), 5).massG.ok).toBe(false);
  });
  it('moves with no zero and follows the unit: a box 5 kg heavier loses the same', () => {
    const heavier = (s: Series): Series => ({ atMs: s.atMs, value: s.value.map((v) => v + 5000) });
    const input = moved(4);
    const light = drift(input, 4).massG;
    const heavy = drift(
      { ...input, series: { ...input.series, weightG: heavier(input.series.weightG!) } },
      4,
    ).massG;
    if (!light.ok || !heavy.ok) throw new Error('declined');
    // Kept bins hold 25 kg to 2 mg.
    expect(heavy.value).toBeCloseTo(light.value, 2);
  });
  it('reads nights of rain as well, with what the roof may hold', () => {
    const raining = (h: number) => hourOf(h) >= 21 || hourOf(h) < 5;
    const input = moved(5, { extra: (h) => (raining(h) ? 60 : 0) });
    const rainMm = made(movedAtMs, movedAtMs + 5 * dayMs, (h) => (raining(h) ? 0.1 : 0));
    const { massG } = drift({ ...input, series: { ...input.series, rainMm } }, 5);
    if (!massG.ok) throw new Error(plain(massG.why));
    expect(massG.low < 150 && massG.high > 150).toBe(true);
  });
  it('believes the scale where foragers left in weather in which hardly any fly', () => {
    const cool = (more: { extra?: (h: number) => number } = {}) =>
      drift({ ...moved(3, { meanC: 8.5, ...more }), framesOfBees: 5 }, 3);
    expect(cool()).toMatchObject({ state: 'no-flying-weather', massG: { ok: false } });
    const left = (h: number) => -300 * (1 - Math.exp(-hoursFlown(h, 13, 17) / 5));
    const found = cool({ extra: left });
    expect(['leaving', 'nearly-gone']).toContain(found.state);
    expect(found.massG.ok && found.massG.low > 50).toBe(true);
  });
  it('without an outside probe reckons with days too cold to fly before they left', () => {
    // From the third day after the move on.
    const left = (h: number) => -350 * (1 - Math.exp(-Math.max(0, hoursFlown(h, 9, 17) - 24) / 6));
    const input = {
      ...moved(9, { meanC: 6, without: ['outsideC'], extra: left }),
      framesOfBees: 5,
    };
    expect(['leaving', 'cannot-tell']).toContain(drift(input, 3).state);
    const found = drift(input, 8);
    expect(found.massG.ok && found.massG.low < 340 && found.massG.high > 340).toBe(true);
    if (found.state === 'gone') expect(plain(found.why)).toContain('a cold spell looks the same');
  });
  it('tells the ends of the share to whole per cents, outwards', () => {
    for (const days of [1, 2, 3, 5, 7]) {
      const { completeness } = drift(moved(7), days);
      if (!completeness.ok) throw new Error(plain(completeness.why));
      const { low, value, high } = completeness;
      for (const end of [low, high]) expect(100 * end).toBeCloseTo(Math.round(100 * end), 9);
      expect(low).toBeLessThanOrEqual(value);
      expect(high).toBeGreaterThanOrEqual(value);
    }
  });
  it('says that some may have left, and tells none as possible, while the nights are few', () => {
    const flat = made(movedAtMs, movedAtMs + 4 * dayMs, (h) => 15_000 - 4 * h + ripple(h, 8));
    const found = drift({ ...moved(4), series: { ...moved(4).series, weightG: flat } }, 4);
    expect(found.massG.ok && found.massG.low).toBe(0);
  });
  it('says that nothing has flown in the cold, and is leaving on the first day', () => {
    expect(drift(moved(3, { meanC: 6 }), 3)).toMatchObject({
      state: 'no-flying-weather',
      massG: { ok: false },
      curve: [],
    });
    expect(drift(moved(1), 0.9).state).toBe('leaving');
  });
  it('does not say that they are still in where sensors came days after the move', () => {
    const late = ({ atMs, value }: Series): Series => {
      const from = atMs.findIndex((at) => at > movedAtMs + 10.8 * dayMs);
      return { atMs: atMs.slice(from), value: value.slice(from) };
    };
    const { series, ...input } = moved(11);
    const some = { weightG: late(series.weightG as Series), outsideC: late(series.outsideC as Series) };
    for (const days of [10.9, 11, 20])
      expect(drift({ ...input, series: some }, days).state).toBe('cannot-tell');
    expect(drift({ ...input, series: { weightG: some.weightG } }, 11).state).toBe('cannot-tell');
  });
  it('passes from leaving by nearly gone to gone, each by the share that has left, gone only where four in five are sure', () => {
    const input = moved(7);
    const seen = new Set<ForagerDrift['state']>();
    for (let hours = 24; hours <= 7 * 24; hours += 3) {
      const { state, completeness } = drift(input, hours / 24);
      const { value: share, low } = completeness.ok ? completeness : { value: NaN, low: NaN };
      expect(share).toBeLessThan(1);
      expect(state).toBe(share >= 0.95 && low >= 0.8 ? 'gone' : share >= 0.9 ? 'nearly-gone' : 'leaving');
      seen.add(state);
    }
    expect([...seen]).toEqual(['leaving', 'nearly-gone', 'gone']);
  });
  it('counts flying days on the local calendar', () => expect(drift(moved(4), 4).flyingDays).toBe(4));
  it('cannot tell without a move or before it', () => {
    const input = moved(3);
    const { movedAtMs: _, ...unmoved } = input;
    expect(drift(unmoved, 3)).toMatchObject({
      state: 'cannot-tell',
      why: expect.stringContaining('no move') as string,
    });
    expect(drift({ ...input, movedAtMs: movedAtMs + 9 * dayMs }, 3).state).toBe('cannot-tell');
  });
  it('goes by the flying weather alone without a night or without a scale, and says so', () => {
    const early = drift(moved(1), 0.3);
    expect(early).toMatchObject({ state: 'leaving', massG: { ok: false } });
    expect(plain(early.why)).toContain('a full night');
    const states = [1, 2, 3, 4].map((days) => drift(moved(5, { without: ['weightG'] }), days));
    expect(states.map(({ state }) => state)).toEqual(['nearly-gone', 'gone', 'gone', 'gone']);
    for (const { massG, why, completeness, byWeather } of states) {
      expect(massG.ok).toBe(false);
      expect(plain(why)).toContain('Only the flying weather');
      expect(completeness).toEqual(byWeather);
    }
    expect(drift(moved(3, { without: ['weightG', 'outsideC'] }), 3).state).toBe('cannot-tell');
  });
  it('says beside the scale what the weather alone would say', () => {
    const { byWeather } = drift(moved(5), 5);
    const alone = drift(moved(5, { without: ['weightG'] }), 5).byWeather;
    expect(byWeather.ok && alone.ok && Math.abs(byWeather.value - alone.value)).toBeLessThan(1e-9);
  });
  it('takes the usual change of settled hives beside it off', () => {
    const settled = (h: number) => 60 * Math.sin(h / 9) - 1.5 * h;
    const input = moved(5, { extra: settled });
    const beside = { ...input.series, settledG: made(movedAtMs, movedAtMs + 5 * dayMs, settled) };
    const alone = drift(input, 5).massG;
    const told = drift({ ...input, series: beside }, 5).massG;
    if (!alone.ok || !told.ok) throw new Error('declined');
    expect(told.high - told.low).toBeLessThan(alone.high - alone.low);
    expect(told.low < 150 && told.high > 150).toBe(true);
  });
  it('lays no full hive’s traffic on the nuc: what settled hives lose by day and gain by evening is their foragers', () => {
    const out = (h: number) =>
      hourOf(h) > 7 && hourOf(h) < 20 ? Math.sin(((hourOf(h) - 7) / 13) * Math.PI) : 0;
    const net = (h: number) => 25 * Math.sin(h / 24);
    const input = moved(5, { extra: (h) => net(h) - 20 * out(h) * Math.min(1, h / 24) });
    const settledG = made(movedAtMs, movedAtMs + 5 * dayMs, (h) => net(h) - 400 * out(h));
    const { massG } = drift({ ...input, series: { ...input.series, settledG } }, 5);
    if (!massG.ok) throw new Error('declined');
    expect(Math.abs(massG.value - 150)).toBeLessThan(40);
    expect(massG.low < 150 && massG.high > 150).toBe(true);
  });
  it('answers without an outside probe from the nights, with no scale correction', () => {
    const { drift: found, scaleTemperature } = analyseNuc(
      moved(5, { without: ['outsideC'] }),
      movedAtMs + 5 * dayMs,
    );
    expect(found).toMatchObject({ state: 'gone', massG: { ok: true }, byWeather: { ok: false } });
    expect(found.massG.ok && found.massG.restsOn.map(plain).join()).toContain('the nights alone');
    expect(scaleTemperature).toMatchObject({ ok: false });
  });
  it('does not call gone where next to nobody left', () => {
    const nothingLeft = moved(4);
    const flat = made(movedAtMs, movedAtMs + 4 * dayMs, (h) => 15_000 - 4 * h + ripple(h, 8));
    const found = drift({ ...nothingLeft, series: { ...nothingLeft.series, weightG: flat } }, 4);
    expect(found.state).toBe('cannot-tell');
    expect(plain(found.why)).toContain('hardly any weight');
  });
  it('bears rain, gaps and a scale that reads wildly for an hour', () => {
    const { nuc, input } = simulatedCase({ seed: 31, days: 5 });
    const wild = input.series.weightG!.value.slice();
    const at = nuc.splitMs + 40 * hourMs;
    input.series.weightG!.atMs.forEach((t, i) => {
      if (t > at && t < at + hourMs) wild[i] = (wild[i] as number) + ((i % 2) * 2 - 1) * 400;
    });
    const { massG } = drift(
      { ...input, series: { ...input.series, weightG: { atMs: input.series.weightG!.atMs, value: wild } } },
      0,
    );
    expect(massG.ok).toBe(false);
    const five = analyseNuc(
      { ...input, series: { ...input.series, weightG: { atMs: input.series.weightG!.atMs, value: wild } } },
      nuc.splitMs + 5 * dayMs,
    );
    expect(five.drift.massG.ok && Number.isFinite(five.drift.massG.value)).toBe(true);
  });
});
