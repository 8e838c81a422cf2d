/** Figures are set for their reader: °C or °F, kg or lb, and the clock of the place. */
import { describe, expect, it } from 'vitest';
import { setCondition, atLeast, below, holds } from '../../server/rules/engine/conditions.ts';
import {
  asSentence,
  clock,
  dayOf,
  days,
  degC,
  grams,
  gramsPerHour,
  hours,
  inWords,
  kelvin,
  minutes,
  percent,
  plain,
  say,
  setFigure,
  type Display,
  type Figure,
} from '../../server/words/phrase.ts';

const metric: Display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' };
const imperial: Display = { timeZone: 'America/St_Johns', temperature: 'F', weight: 'lb' };
/** 29 March 2026, 01:30 UTC: 03:30 in Berlin, half an hour after the clocks went forward; 23:00 the day before in St John’s. */
const spring = Date.UTC(2026, 2, 29, 1, 30);

const rows: readonly (readonly [Figure, string, string])[] = [
  // Exact by definition: 0 °C is 32 °F, 100 °C is 212 °F, −40 both.
  [degC(0), '0.0 °C', '32.0 °F'],
  [degC(-40), '−40.0 °C', '−40.0 °F'],
  [degC(34.56), '34.6 °C', '94.2 °F'],
  [kelvin(1), '1.0 °C', '1.8 °F'],
  [{ value: 2, unit: '°C·h' }, '2.0 °C-hours', '3.6 °F-hours'],
  // 453.59237 g to the pound, 16 ounces.
  [grams(453.59237), '454 g', '1.00 lb'],
  [grams(28.349523125), '28 g', '1.0 oz'],
  [grams(-1500), '−1.50 kg', '−3.31 lb'],
  [gramsPerHour(-14.6), '−15 g an hour', '−0.5 oz an hour'],
  [minutes(89), '89 min', '89 min'],
  [minutes(90), '1.5 hours', '1.5 hours'],
  [hours(1), '60 min', '60 min'],
  [hours(24), '24 hours', '24 hours'],
  [hours(72), '3 days', '3 days'],
  [days(1), '1 day', '1 day'],
  [days(2.5), '2.5 days', '2.5 days'],
  [percent(0.934), '93 %', '93 %'],
  [plain(3), '3', '3'],
  [plain(2.345), '2.35', '2.35'],
  [{ value: 3.301, unit: 'V' }, '3.30 V', '3.30 V'],
  [{ value: 250, unit: 'MB' }, '250 MB', '250 MB'],
  [{ value: 2500, unit: 'MB' }, '2.5 GB', '2.5 GB'],
  [clock(spring), 'Sun 29 Mar 03:30', 'Sat 28 Mar 23:00'],
  [dayOf(spring), 'Sun 29 Mar', 'Sat 28 Mar'],
  [degC(-0.01), '0.0 °C', '32.0 °F'],
];

describe('figures', () => {
  it.each(rows)('%o', (figure, inMetric, inImperial) => {
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
