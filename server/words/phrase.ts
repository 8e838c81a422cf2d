/**
 * Sentences with figures in them, kept as data until somebody reads them.
 *
 * An alert is raised once and read by people who may want °F, pounds or another zone's clock; so a
 * phrase keeps its figures as numbers with units and `inWords` sets them for a reader.
 */
import { Temporal } from 'temporal-polyfill';
import { besideLimit, percentInWords } from './chance.ts';

export type FigureUnit =
  | '°C'
  | 'K'
  | 'g'
  | 'g/h'
  | 'min'
  | 'h'
  | 'd'
  | '%'
  | ''
  | '°C·h'
  | 'instant'
  | 'day'
  | 'date'
  | 'm'
  | 'V'
  | 'MB'
  | 'bees';

/** `instant` and `day` carry ms since 1970 UTC, `date` those of its midnight in UTC; `min`, `h` and `d` are durations; `%` is 0..100. */
export interface Figure {
  readonly value: number;
  readonly unit: FigureUnit;
  /** What it is held against, in its unit: it reads as that only where it is at it. */
  readonly limit?: number;
  /** Known only to some degrees: no tenths. */
  readonly whole?: true;
}
export type Phrase = readonly (string | Figure)[];
/** Plain words, or words with figures in them. */
export type Sentence = string | Phrase;

/** How a reader wants figures set. */
export interface Display {
  readonly timeZone: string;
  readonly temperature: 'C' | 'F';
  readonly weight: 'kg' | 'lb';
  /** 24 where absent. */
  readonly hours?: 12 | 24;
  /** `day-month` where absent. */
  readonly dateOrder?: 'day-month' | 'month-day';
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
/** Method: a temperature whose interval is so wide is not known to tenths, K. */
const wideK = 5;
/** With the digits that its interval leaves it. */
export const within = (
  figure: Figure,
  { low, high }: { readonly low: number; readonly high: number },
): Figure => (figure.unit === '°C' && high - low >= wideK ? { ...figure, whole: true } : figure);
/** Beside the limit that it is held against. */
export const beside = (figure: Figure, limit: number): Figure => ({ ...figure, limit });
export const kelvin = (value: number): Figure => ({ value, unit: 'K' });
export const grams = (value: number): Figure => ({ value, unit: 'g' });
/** What left a nuc, to ten grams: no scale tells it closer. */
export const gramsLeft = (value: number): Figure => grams(Math.round(value / 10) * 10);
export const gramsPerHour = (value: number): Figure => ({ value, unit: 'g/h' });
/** A distance on the ground: in metres and kilometres for every reader, as the log asks for it. */
export const metres = (value: number): Figure => ({ value, unit: 'm' });
export const minutes = (value: number): Figure => ({ value, unit: 'min' });
export const hours = (value: number): Figure => ({ value, unit: 'h' });
export const days = (value: number): Figure => ({ value, unit: 'd' });
/** From a share 0..1. */
export const percent = (share: number): Figure => ({ value: share * 100, unit: '%' });
/** A number of bees: nobody knows it to the single one. */
export const bees = (value: number): Figure => ({ value, unit: 'bees' });
export const plain = (value: number): Figure => ({ value, unit: '' });
/** Day and time of an instant. */
export const clock = (atMs: number): Figure => ({ value: atMs, unit: 'instant' });
/** Only the day of an instant. */
export const dayOf = (atMs: number): Figure => ({ value: atMs, unit: 'day' });

/** A calendar date YYYY-MM-DD: the same in every zone. */
export const onDate = (date: string): Figure => ({ value: Date.parse(date), unit: 'date' });

/** Sets figures and sentences for one reader. */
export const setFor =
  (display: Display) =>
  (what: Figure | Sentence): string =>
    typeof what === 'object' && 'unit' in what ? setFigure(what, display) : inWords(what, display);
export type Say = ReturnType<typeof setFor>;

/** With a capital letter and a full stop. */
export function asSentence(words: Sentence): Phrase {
  const [first, ...others] = typeof words === 'string' ? [words] : words;
  const begun = typeof first === 'string' ? first.charAt(0).toUpperCase() + first.slice(1) : first;
  const parts = begun === undefined ? [] : [begun, ...others];
  const last = parts.at(-1);
  return typeof last === 'string' && /[.!?]$/.test(last) ? parts : [...parts, '.'];
}

/** A sentence set for a reader, in one string. */
export function inWords(sentence: Sentence, display: Display): string {
  if (typeof sentence === 'string') return sentence;
  return sentence.map((part) => (typeof part === 'string' ? part : setFigure(part, display))).join('');
}

export function setFigure(figure: Figure, display: Display): string {
  const { value, limit = value } = figure;
  return besideLimit(value, limit, (side) => setValue({ ...figure, value: side }, display));
}

function setValue({ value, unit, whole }: Figure, display: Display): string {
  switch (unit) {
    case '°C': {
      const digits = whole ? 0 : 1;
      return display.temperature === 'F'
        ? `${fixed((value * 9) / 5 + 32, digits)} °F`
        : `${fixed(value, digits)} °C`;
    }
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
      return percentInWords(value);
    case 'instant':
      return local(value, display, true);
    case 'day':
      return local(value, display, false);
    case 'date':
      return local(value, { ...display, timeZone: 'UTC' }, false);
    case 'm':
      return distance(value);
    case 'V':
      return `${fixed(value, 2)} V`;
    case 'MB':
      return Math.round(value) >= 1000 ? `${fixed(value / 1000, 1)} GB` : `${fixed(value, 0)} MB`;
    case 'bees':
      return inHundreds(value);
    case '':
      return fixed(value, Number.isInteger(value) ? 0 : 2);
  }
}

/** Made once: making one takes longer than a thousand uses. */
const grouped = new Intl.NumberFormat('en-GB');

function inHundreds(value: number): string {
  const rounded = Math.round(value / 100) * 100;
  return `${rounded < 0 ? '−' : ''}${grouped.format(Math.abs(rounded))}`;
}

/** A real minus sign, and never "-0.0". */
function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** International avoirdupois pound (1959): 453.59237 g exactly; 16 ounces. */
const gramsPerPound = 453.59237;

/** In the larger unit as soon as the smaller one is rounded up to it. */
function mass(g: number, weight: Display['weight']): string {
  if (weight === 'kg') return Math.abs(g) < 999.5 ? `${fixed(g, 0)} g` : `${fixed(g / 1000, 2)} kg`;
  const pounds = g / gramsPerPound;
  return Math.abs(pounds) * 16 < 15.95 ? `${fixed(pounds * 16, 1)} oz` : `${fixed(pounds, 2)} lb`;
}

const distance = (m: number): string =>
  m < 999.5 ? `${fixed(m, m < 9.5 ? 1 : 0).replace(/\.0$/, '')} m` : `${fixed(m / 1000, 1)} km`;

/** Nobody plans by the tenth of a day weeks ahead. */
function plural(value: number, word: string): string {
  const text = fixed(value, value < 20 ? 1 : 0).replace(/\.0$/, '');
  return `${text} ${word}${text === '1' ? '' : 's'}`;
}

function duration(min: number): string {
  if (min < 89.5) return `${fixed(min, 0)} min`;
  const halfHours = Math.round(min / 30);
  return halfHours < 96 ? plural(halfHours / 2, 'hour') : plural(Math.round(min / 60 / 24), 'day');
}

const dayNames = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
const monthNames = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function local(atMs: number, { timeZone, hours, dateOrder }: Display, withTime: boolean): string {
  const at = Temporal.Instant.fromEpochMilliseconds(Math.round(atMs)).toZonedDateTimeISO(timeZone);
  const month = monthNames[at.month - 1] ?? '';
  const date = dateOrder === 'month-day' ? `${month} ${String(at.day)}` : `${String(at.day)} ${month}`;
  const day = `${dayNames[at.dayOfWeek - 1] ?? ''} ${date}`;
  if (!withTime) return day;
  const minute = String(at.minute).padStart(2, '0');
  const time =
    hours === 12
      ? `${String(at.hour % 12 || 12)}:${minute} ${at.hour < 12 ? 'am' : 'pm'}`
      : `${String(at.hour).padStart(2, '0')}:${minute}`;
  return isShownTwice(at) ? `${day} ${time} ${offsetInWords(at)}` : `${day} ${time}`;
}

/** In the night in which clocks are put back. */
function isShownTwice(at: Temporal.ZonedDateTime): boolean {
  const there = at.toPlainDateTime();
  const [first, last] = (['earlier', 'later'] as const).map(
    (disambiguation) => there.toZonedDateTime(at.timeZoneId, { disambiguation }).epochMilliseconds,
  );
  return first !== last;
}

/** `UTC+2`, `UTC−3:30`. */
const offsetInWords = ({ offset }: Temporal.ZonedDateTime): string =>
  `UTC${offset
    .replace(/^([+-])0/, '$1')
    .replace(/:00$/, '')
    .replace('-', '−')}`;
