/** Days and hours of the site for the time axis: a day begins at the site's midnight, also when clocks change. */
import { addDays, instantAt, localDate, localTime, zoneOffsetMs } from '../format/calendar.ts';
import { shortDay } from '../format/when.ts';

export type Unit =
  'millisecond' | 'second' | 'minute' | 'hour' | 'day' | 'week' | 'month' | 'quarter' | 'year' | 'isoWeek';

const fixedMs: Partial<Record<Unit, number>> = {
  millisecond: 1,
  second: 1_000,
  minute: 60_000,
  hour: 3_600_000,
};
/** Lengths for `diff`, where Chart.js only asks for an order of magnitude. */
const aboutMs: Readonly<Record<Unit, number>> = {
  millisecond: 1,
  second: 1_000,
  minute: 60_000,
  hour: 3_600_000,
  day: 86_400_000,
  week: 7 * 86_400_000,
  isoWeek: 7 * 86_400_000,
  month: 30.44 * 86_400_000,
  quarter: 91.3 * 86_400_000,
  year: 365.25 * 86_400_000,
};

function firstOfUnit(date: string, unit: Unit): string {
  const month = Number(date.slice(5, 7));
  switch (unit) {
    case 'week':
    case 'isoWeek': {
      const weekday = (new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7;
      return addDays(date, -weekday);
    }
    case 'month':
      return `${date.slice(0, 7)}-01`;
    case 'quarter':
      return `${date.slice(0, 4)}-${String(month - ((month - 1) % 3)).padStart(2, '0')}-01`;
    case 'year':
      return `${date.slice(0, 4)}-01-01`;
    default:
      return date;
  }
}

export function startOf(atMs: number, unit: Unit, zone: string): number {
  const fixed = fixedMs[unit];
  if (fixed !== undefined) {
    const offset = zoneOffsetMs(atMs, zone);
    return Math.floor((atMs + offset) / fixed) * fixed - offset;
  }
  return instantAt(firstOfUnit(localDate(atMs, zone), unit), '00:00', zone);
}

function addMonths(date: string, months: number): string {
  const index = Number(date.slice(0, 4)) * 12 + Number(date.slice(5, 7)) - 1 + months;
  const month = `${String(Math.floor(index / 12))}-${String((index % 12) + 1).padStart(2, '0')}`;
  const last = new Date(Date.UTC(Math.floor(index / 12), (index % 12) + 1, 0)).getUTCDate();
  return `${month}-${String(Math.min(last, Number(date.slice(8)))).padStart(2, '0')}`;
}

export function add(atMs: number, amount: number, unit: Unit, zone: string): number {
  const fixed = fixedMs[unit];
  if (fixed !== undefined) return atMs + amount * fixed;
  const date = localDate(atMs, zone);
  const months = { month: 1, quarter: 3, year: 12 }[unit as 'month'] as number | undefined;
  const days = unit === 'day' ? 1 : 7;
  const to = months === undefined ? addDays(date, amount * days) : addMonths(date, amount * months);
  return instantAt(to, localTime(atMs, zone), zone);
}

export function endOf(atMs: number, unit: Unit, zone: string): number {
  return add(startOf(atMs, unit, zone), 1, unit, zone) - 1;
}

export const diff = (a: number, b: number, unit: Unit): number => (a - b) / aboutMs[unit];

/** Axis words: the clock within a day, the day beyond. */
export function axisWords(atMs: number, format: string, zone: string): string {
  if (format === 'clock') {
    const time = localTime(atMs, zone);
    return time === '00:00' ? shortDay(atMs, zone) : time;
  }
  return format === 'month' ? shortDay(atMs, zone).slice(4) : shortDay(atMs, zone);
}

export const axisFormats: Readonly<Record<Exclude<Unit, 'isoWeek'> | 'datetime', string>> = {
  datetime: 'clock',
  millisecond: 'clock',
  second: 'clock',
  minute: 'clock',
  hour: 'clock',
  day: 'day',
  week: 'day',
  month: 'month',
  quarter: 'month',
  year: 'month',
};
