/**
 * Sentences with figures in them, kept as data until somebody reads them.
 *
 * An alert is raised once and read by people who may want °F, pounds or another zone's clock; so a
 * phrase keeps its figures as numbers with units and `inWords` sets them for a reader.
 */
import { Temporal } from 'temporal-polyfill';

export type FigureUnit =
  '°C' | 'K' | 'g' | 'g/h' | 'min' | 'h' | 'd' | '%' | '' | '°C·h' | 'instant' | 'day' | 'V' | 'MB';

/** `instant` and `day` carry ms since 1970 UTC; `min`, `h` and `d` are durations; `%` is 0..100. */
export interface Figure {
  readonly value: number;
  readonly unit: FigureUnit;
}
export type Phrase = readonly (string | Figure)[];

/** How a reader wants figures set. */
export interface Display {
  readonly timeZone: string;
  readonly temperature: 'C' | 'F';
  readonly weight: 'kg' | 'lb';
}

/** Tagged template: say`Brood at ${degC(30.4)} since ${clock(ms)}.` Strings in it stay as they are. */
export function say(strings: TemplateStringsArray, ...values: readonly (string | Figure | Phrase)[]): Phrase {
  const parts: (string | Figure)[] = [];
  strings.forEach((text, i) => {
    if (text !== '') parts.push(text);
    const value = values[i];
    if (value === undefined) return;
    if (Array.isArray(value)) parts.push(...(value as Phrase));
    else parts.push(value as string | Figure);
  });
  return parts;
}

export const degC = (value: number): Figure => ({ value, unit: '°C' });
export const kelvin = (value: number): Figure => ({ value, unit: 'K' });
export const grams = (value: number): Figure => ({ value, unit: 'g' });
export const gramsPerHour = (value: number): Figure => ({ value, unit: 'g/h' });
export const minutes = (value: number): Figure => ({ value, unit: 'min' });
export const hours = (value: number): Figure => ({ value, unit: 'h' });
export const days = (value: number): Figure => ({ value, unit: 'd' });
/** From a share 0..1. */
export const percent = (share: number): Figure => ({ value: share * 100, unit: '%' });
export const plain = (value: number): Figure => ({ value, unit: '' });
/** Day and time of an instant. */
export const clock = (atMs: number): Figure => ({ value: atMs, unit: 'instant' });
/** Only the day of an instant. */
export const dayOf = (atMs: number): Figure => ({ value: atMs, unit: 'day' });

/** A temperature, a difference of two, or a mass. The end of a span such as `0.08-0.12 g` is none: spans stay as they are. */
const metricFigure = /(?<![\d.–-])([−-]?\d+(?:\.\d+)?) (°C|K|g)(?!\w)/;

/** The words of a signal, which are metric, with their figures taken out so that they can be set for a reader. */
export function measured(words: string): Phrase {
  const [before = '', value = '', unit] = words.split(metricFigure);
  if (unit === undefined) return words === '' ? [] : [words];
  const after = words.slice(`${before}${value} ${unit}`.length);
  const figure = { value: Number(value.replace('−', '-')), unit: unit as FigureUnit };
  return [...(before === '' ? [] : [before]), figure, ...measured(after)];
}

/** A figure, or the metric words of a signal, set for a reader. */
export const setFor =
  (display: Display) =>
  (what: Figure | string): string =>
    typeof what === 'string' ? inWords(measured(what), display) : setFigure(what, display);
export type Say = ReturnType<typeof setFor>;

/** A phrase set for a reader, in one string. */
export function inWords(phrase: Phrase, display: Display): string {
  return phrase.map((part) => (typeof part === 'string' ? part : setFigure(part, display))).join('');
}

export function setFigure({ value, unit }: Figure, display: Display): string {
  switch (unit) {
    case '°C':
      return display.temperature === 'F' ? `${fixed((value * 9) / 5 + 32, 1)} °F` : `${fixed(value, 1)} °C`;
    case 'K':
      return display.temperature === 'F' ? `${fixed((value * 9) / 5, 1)} °F` : `${fixed(value, 1)} °C`;
    case '°C·h':
      return display.temperature === 'F'
        ? `${fixed((value * 9) / 5, 1)} °F-hours`
        : `${fixed(value, 1)} °C-hours`;
    case 'g':
      return mass(value, display.weight);
    case 'g/h':
      return `${mass(value, display.weight)} an hour`;
    case 'min':
      return duration(value);
    case 'h':
      return duration(value * 60);
    case 'd':
      return plural(value, 'day');
    case '%':
      return `${fixed(value, 0)} %`;
    case 'instant':
      return local(value, display.timeZone, true);
    case 'day':
      return local(value, display.timeZone, false);
    case 'V':
      return `${fixed(value, 2)} V`;
    case 'MB':
      return value >= 1000 ? `${fixed(value / 1000, 1)} GB` : `${fixed(value, 0)} MB`;
    case '':
      return Number.isInteger(value) ? String(value) : fixed(value, 2);
  }
}

/** A real minus sign, and never "-0.0". */
function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** International avoirdupois pound (1959): 453.59237 g exactly; 16 ounces. */
const gramsPerPound = 453.59237;

function mass(g: number, weight: Display['weight']): string {
  if (weight === 'kg') return Math.abs(g) < 1000 ? `${fixed(g, 0)} g` : `${fixed(g / 1000, 2)} kg`;
  const pounds = g / gramsPerPound;
  return Math.abs(pounds) < 1 ? `${fixed(pounds * 16, 1)} oz` : `${fixed(pounds, 2)} lb`;
}

function plural(value: number, word: string): string {
  const text = Number.isInteger(value) ? String(value) : fixed(value, 1);
  return `${text} ${word}${text === '1' ? '' : 's'}`;
}

function duration(min: number): string {
  if (min < 90) return `${fixed(min, 0)} min`;
  const inHours = min / 60;
  return inHours < 48 ? plural(Math.round(inHours * 2) / 2, 'hour') : plural(Math.round(inHours / 24), 'day');
}

const dayNames = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
const monthNames = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function local(atMs: number, timeZone: string, withTime: boolean): string {
  const at = Temporal.Instant.fromEpochMilliseconds(Math.round(atMs)).toZonedDateTimeISO(timeZone);
  const day = `${dayNames[at.dayOfWeek - 1] ?? ''} ${String(at.day)} ${monthNames[at.month - 1] ?? ''}`;
  if (!withTime) return day;
  return `${day} ${String(at.hour).padStart(2, '0')}:${String(at.minute).padStart(2, '0')}`;
}
