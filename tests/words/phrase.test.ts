/** Figures are set for their reader: °C or °F, kg or lb, and the clock of the place. */
import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { setCondition, atLeast, below, holds } from '../../server/rules/engine/conditions.ts';
import {
  asSentence,
  bees,
  beside,
  clock,
  dayOf,
  days,
  degC,
  grams,
  gramsPerHour,
  hours,
  inWords,
  kelvin,
  metres,
  minutes,
  percent,
  plain,
  say,
  setFigure,
  within,
  type Display,
  type Figure,
} from '../../server/words/phrase.ts';

const metric: Display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' };
const imperial: Display = { timeZone: 'America/St_Johns', temperature: 'F', weight: 'lb' };
/** 29 March 2026, 01:30 UTC: 03:30 in Berlin, half an hour after the clocks went forward; 23:00 the day before in St John’s. */
const spring = Date.UTC(2026, 2, 29, 1, 30);

const rows: readonly { figure: Figure; inMetric: string; inImperial: string }[] = [
  // Exact by definition: 0 °C is 32 °F, 100 °C is 212 °F, −40 both.
  { figure: degC(0), inMetric: '0.0 °C', inImperial: '32.0 °F' },
  { figure: degC(-40), inMetric: '−40.0 °C', inImperial: '−40.0 °F' },
  { figure: degC(34.56), inMetric: '34.6 °C', inImperial: '94.2 °F' },
  { figure: kelvin(1), inMetric: '1.0 °C', inImperial: '1.8 °F' },
  { figure: { value: 2, unit: '°C·h' }, inMetric: '2.0 °C-hours', inImperial: '3.6 °F-hours' },
  // 453.59237 g to the pound, 16 ounces.
  { figure: grams(453.59237), inMetric: '454 g', inImperial: '1.00 lb' },
  { figure: grams(28.349523125), inMetric: '28 g', inImperial: '1.0 oz' },
  { figure: grams(-1500), inMetric: '−1.50 kg', inImperial: '−3.31 lb' },
  { figure: gramsPerHour(-14.6), inMetric: '−15 g an hour', inImperial: '−0.5 oz an hour' },
  { figure: minutes(89), inMetric: '89 min', inImperial: '89 min' },
  { figure: minutes(90), inMetric: '1.5 hours', inImperial: '1.5 hours' },
  { figure: hours(1), inMetric: '60 min', inImperial: '60 min' },
  { figure: hours(24), inMetric: '24 hours', inImperial: '24 hours' },
  { figure: hours(72), inMetric: '3 days', inImperial: '3 days' },
  { figure: days(1), inMetric: '1 day', inImperial: '1 day' },
  { figure: days(2.5), inMetric: '2.5 days', inImperial: '2.5 days' },
  { figure: days(749.7), inMetric: '750 days', inImperial: '750 days' },
  { figure: percent(0.934), inMetric: '93 %', inImperial: '93 %' },
  // All, and none, are told only of what is all or none.
  { figure: percent(0.996), inMetric: 'over 99 %', inImperial: 'over 99 %' },
  { figure: percent(1), inMetric: '100 %', inImperial: '100 %' },
  { figure: percent(0.004), inMetric: 'under 1 %', inImperial: 'under 1 %' },
  { figure: percent(0), inMetric: '0 %', inImperial: '0 %' },
  // Beside a limit it reads as that limit only where it is at it.
  { figure: beside(degC(31.97), 32), inMetric: 'just under 32.0 °C', inImperial: '89.5 °F' },
  { figure: beside(degC(32.01), 32), inMetric: 'just over 32.0 °C', inImperial: 'just over 89.6 °F' },
  { figure: beside(degC(32), 32), inMetric: '32.0 °C', inImperial: '89.6 °F' },
  // Its interval is ten degrees wide: the tenths are not known.
  { figure: within(degC(31.97), { low: 27, high: 37 }), inMetric: '32 °C', inImperial: '90 °F' },
  { figure: within(degC(31.97), { low: 31, high: 33 }), inMetric: '32.0 °C', inImperial: '89.5 °F' },
  {
    figure: beside(within(degC(31.8), { low: 27, high: 37 }), 32),
    inMetric: 'just under 32 °C',
    inImperial: '89 °F',
  },
  { figure: metres(9.6), inMetric: '10 m', inImperial: '10 m' },
  { figure: metres(0.5), inMetric: '0.5 m', inImperial: '0.5 m' },
  { figure: metres(999.6), inMetric: '1.0 km', inImperial: '1.0 km' },
  { figure: metres(1260), inMetric: '1.3 km', inImperial: '1.3 km' },
  { figure: metres(12_000), inMetric: '12.0 km', inImperial: '12.0 km' },
  { figure: plain(3), inMetric: '3', inImperial: '3' },
  { figure: plain(2.345), inMetric: '2.35', inImperial: '2.35' },
  { figure: { value: 3.301, unit: 'V' }, inMetric: '3.30 V', inImperial: '3.30 V' },
  { figure: { value: 250, unit: 'MB' }, inMetric: '250 MB', inImperial: '250 MB' },
  { figure: { value: 2500, unit: 'MB' }, inMetric: '2.5 GB', inImperial: '2.5 GB' },
  { figure: clock(spring), inMetric: 'Sun 29 Mar 03:30', inImperial: 'Sat 28 Mar 23:00' },
  { figure: dayOf(spring), inMetric: 'Sun 29 Mar', inImperial: 'Sat 28 Mar' },
  { figure: degC(-0.01), inMetric: '0.0 °C', inImperial: '32.0 °F' },
  // What is rounded up to the next larger unit is told in it.
  { figure: grams(999.6), inMetric: '1.00 kg', inImperial: '2.20 lb' },
  { figure: grams(453), inMetric: '453 g', inImperial: '1.00 lb' },
  { figure: minutes(89.6), inMetric: '1.5 hours', inImperial: '1.5 hours' },
  { figure: hours(47.9), inMetric: '2 days', inImperial: '2 days' },
  { figure: { value: 999.7, unit: 'MB' }, inMetric: '1.0 GB', inImperial: '1.0 GB' },
  { figure: days(1.02), inMetric: '1 day', inImperial: '1 day' },
  { figure: days(-1), inMetric: '−1 days', inImperial: '−1 days' },
  { figure: plain(-3), inMetric: '−3', inImperial: '−3' },
  { figure: bees(-30), inMetric: '0', inImperial: '0' },
  { figure: bees(1849), inMetric: '1,800', inImperial: '1,800' },
];

describe('figures', () => {
  it.each(rows)('$inMetric, $inImperial', ({ figure, inMetric, inImperial }) => {
    expect(setFigure(figure, metric)).toBe(inMetric);
    expect(setFigure(figure, imperial)).toBe(inImperial);
  });

  it('stand in phrases, which may stand in phrases, and survive being stored', () => {
    const phrase = say`Brood at ${degC(30)}${say`, ${'since'} ${clock(spring)}`}.`;
    expect(inWords(JSON.parse(JSON.stringify(phrase)) as typeof phrase, metric)).toBe(
      'Brood at 30.0 °C, since Sun 29 Mar 03:30.',
    );
  });
});

describe('any figure', () => {
  const units = ['°C', 'K', 'g', 'g/h', 'min', 'h', 'd', '%', '', '°C·h', 'V', 'm', 'MB', 'bees'] as const;
  it('has no hyphen for a minus, no negative nought, and never more of a unit than the next larger one holds', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...units),
        fc.oneof(fc.double({ min: -2e4, max: 2e4, noNaN: true }), fc.integer({ min: -3, max: 3 })),
        fc.constantFrom(metric, imperial),
        (unit, value, display) => {
          const words = setFigure({ value, unit }, display);
          expect(words).not.toMatch(/-\d|−0(\.0+)?(?![.\d])/);
          expect(words).not.toMatch(/^−?(1000 g|16\.0 oz|90 min|48 hours|1000 m|1000 MB)\b/);
        },
      ),
    );
  });
});

describe('conditions for a reader', () => {
  it('show what was compared with what', () => {
    expect(setCondition(below('Brood', 30, 32, '°C'), imperial)).toEqual({
      name: 'Brood',
      value: '86.0 °F',
      limit: '89.6 °F',
      met: true,
    });
    expect(setCondition(atLeast('Share', null, 90, '%'), metric)).toEqual({
      name: 'Share',
      value: 'not known',
      limit: '90 %',
      met: null,
    });
    // Not met by a hair, and not met though it is at its limit, would read alike.
    expect(setCondition(atLeast('Share', 89.8, 90, '%'), metric)).toMatchObject({
      value: 'just under 90 %',
      limit: '90 %',
    });
    expect(setCondition(holds('State', false, 'leaving', 'gone'), metric)).toEqual({
      name: 'State',
      value: 'leaving',
      limit: 'gone',
      met: false,
    });
  });
});

describe('instants', () => {
  const afternoon = Date.UTC(2026, 4, 28, 13, 5);
  const midnight = Date.UTC(2026, 4, 28, 0, 0);
  it.each([
    { at: afternoon, hours: 24, dateOrder: 'day-month', expected: 'Thu 28 May 13:05' },
    { at: afternoon, hours: 12, dateOrder: 'day-month', expected: 'Thu 28 May 1:05 pm' },
    { at: afternoon, hours: 12, dateOrder: 'month-day', expected: 'Thu May 28 1:05 pm' },
    { at: midnight, hours: 12, dateOrder: 'month-day', expected: 'Thu May 28 12:00 am' },
    { at: midnight, hours: 24, dateOrder: 'month-day', expected: 'Thu May 28 00:00' },
  ] as const)('with $hours hours, $dateOrder: $expected', ({ at, hours, dateOrder, expected }) => {
    expect(setFigure(clock(at), { ...metric, timeZone: 'UTC', hours, dateOrder })).toBe(expected);
  });
});

describe('the night in which clocks are put back', () => {
  // tz database 2026: back at 03:00 in Berlin, at 02:00 in St John’s and on Lord Howe (there by half an hour).
  it.each([
    ['Europe/Berlin', '2026-10-25'],
    ['America/St_Johns', '2026-11-01'],
    ['Australia/Lord_Howe', '2026-04-05'],
  ])('names the zone of the times that come twice, and of no other, in %s', (timeZone, date) => {
    const fromMs = Temporal.PlainDate.from(date).toZonedDateTime({ timeZone }).epochMilliseconds;
    const times = Array.from({ length: 60 }, (_, i) => fromMs + i * 900_000);
    const told = times.map((atMs) => setFigure(clock(atMs), { ...metric, timeZone }));
    expect(new Set(told).size).toBe(times.length);
    for (const [i, atMs] of times.entries()) {
      const there = Temporal.Instant.fromEpochMilliseconds(atMs)
        .toZonedDateTimeISO(timeZone)
        .toPlainDateTime();
      const [first, last] = (['earlier', 'later'] as const).map(
        (disambiguation) => there.toZonedDateTime(timeZone, { disambiguation }).epochMilliseconds,
      );
      expect(told[i]?.includes('UTC'), told[i]).toBe(first !== last);
    }
  });
  it('says it as the page does', () => {
    const berlin = Date.parse('2026-10-25T00:30:00Z');
    expect(setFigure(clock(berlin), metric)).toBe('Sun 25 Oct 02:30 UTC+2');
    expect(setFigure(clock(berlin), { ...metric, hours: 12 })).toBe('Sun 25 Oct 2:30 am UTC+2');
    expect(setFigure(dayOf(berlin), metric)).toBe('Sun 25 Oct');
    const stJohns = Date.parse('2026-11-01T04:15:00Z');
    expect(setFigure(clock(stJohns), imperial)).toBe('Sun 1 Nov 01:45 UTC−2:30');
  });
});

describe('words as a sentence', () => {
  it.each([
    { words: 'no scale', expected: 'No scale.' },
    { words: 'Is it so?', expected: 'Is it so?' },
    { words: say`${degC(30)} now`, expected: '86.0 °F now.' },
    { words: say`now ${degC(30)}`, expected: 'Now 86.0 °F.' },
  ])('$expected', ({ words, expected }) => {
    expect(inWords(asSentence(words), imperial)).toBe(expected);
  });
});
