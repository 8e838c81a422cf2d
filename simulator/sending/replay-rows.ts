/** From the records of a CSV file to messages: times read, missing values left out, bad rows counted and named. */
import { Temporal } from 'temporal-polyfill';
import type { SimMessage } from './messages.ts';
import { ReplayOptionError, type Column, type ReplayPlan, type Shift, type TimeSpec } from './replay-plan.ts';

export interface ReplayRows {
  /** In ascending order of time. */
  readonly messages: SimMessage[];
  readonly rows: number;
  readonly missing: number;
  /** One sentence for each row or cell that could not be read, in order. */
  readonly problems: string[];
}

/** Reads all records. Throws a ReplayOptionError when a column is not there at all. */
export function readRows(records: Iterable<readonly string[]>, plan: ReplayPlan): ReplayRows {
  const result: ReplayRows & { rows: number; missing: number } = {
    messages: [],
    rows: 0,
    missing: 0,
    problems: [],
  };
  const readTime = timeReader(plan.time, plan.zone);
  let columns: { time: number; values: readonly number[] } | null = null;
  let line = 0;
  for (const record of records) {
    line++;
    if (!columns) {
      columns = resolveColumns(plan, record);
      if (isHeading(plan, record[columns.time])) continue;
    }
    result.rows++;
    const timeText = record[columns.time] ?? '';
    const atMs = readTime(timeText);
    if (atMs === null) {
      result.problems.push(`line ${String(line)}: "${timeText}" is not a time of the kind ${plan.time.kind}`);
      continue;
    }
    for (const [index, spec] of plan.values.entries()) {
      const text = (record[columns.values[index] ?? -1] ?? '').trim();
      const value = readValue(text, plan.missing);
      if (value === 'missing') result.missing++;
      else if (value === 'unreadable') {
        result.problems.push(`line ${String(line)}: "${text}" is not a number`);
      } else {
        const { column: _column, ...name } = spec;
        result.messages.push({ ...name, value, atMs, stampedAtMs: atMs });
      }
    }
  }
  result.messages.sort((a, b) => a.atMs - b.atMs);
  return result;
}

function resolveColumns(plan: ReplayPlan, first: readonly string[]) {
  const find = (column: Column): number => {
    const index =
      column.by === 'number' ? column.number - 1 : first.findIndex((name) => name.trim() === column.name);
    if (index < 0 || index >= first.length) {
      const wanted = column.by === 'number' ? `column ${String(column.number)}` : `column "${column.name}"`;
      throw new ReplayOptionError(`the file has no ${wanted}; its first line reads ${first.join(' | ')}`);
    }
    return index;
  };
  return { time: find(plan.time.column), values: plan.values.map(({ column }) => find(column)) };
}

/** The first line is a heading when a column is called by name, or when its time can't be read. */
function isHeading(plan: ReplayPlan, timeText: string | undefined): boolean {
  const named = [plan.time.column, ...plan.values.map(({ column }) => column)].some(
    ({ by }) => by === 'name',
  );
  return named || timeReader(plan.time, plan.zone)(timeText ?? '') === null;
}

function readValue(text: string, missing: readonly string[]): number | 'missing' | 'unreadable' {
  if (text === '') return 'missing';
  const value = Number(text);
  if (missing.some((mark) => mark === text || (mark !== '' && Number(mark) === value))) return 'missing';
  return Number.isFinite(value) ? value : 'unreadable';
}

type TimeReader = (text: string) => number | null;

function timeReader(spec: TimeSpec, zone: string): TimeReader {
  switch (spec.kind) {
    case 'iso':
      return (text) => orNull(() => Temporal.Instant.from(text.trim()).epochMilliseconds);
    case 'unix':
      return (text) => finite(text, 1000);
    case 'unix-ms':
      return (text) => finite(text, 1);
    case 'local':
      return localReader(zone);
    case 'minute-of-day':
      return ofDayReader(spec.date, zone, 60);
    case 'second-of-day':
      return ofDayReader(spec.date, zone, 1);
  }
}

function finite(text: string, factor: number): number | null {
  const value = text.trim() === '' ? NaN : Number(text);
  return Number.isFinite(value) ? Math.round(value * factor) : null;
}

/** Local date and time. The hour that autumn repeats is read as its second pass once the rows have gone through the first. */
function localReader(zone: string): TimeReader {
  let previousMs = Number.NEGATIVE_INFINITY;
  return (text) =>
    orNull(() => {
      const local = Temporal.PlainDateTime.from(text.trim());
      const earlier = local.toZonedDateTime(zone, { disambiguation: 'earlier' }).epochMilliseconds;
      const later = local.toZonedDateTime(zone, { disambiguation: 'later' }).epochMilliseconds;
      // Only where the clock goes back are there two instants with the same reading.
      const repeated = earlier !== later && isReading(earlier, local, zone) && isReading(later, local, zone);
      const atMs = repeated ? (earlier >= previousMs ? earlier : later) : later;
      previousMs = atMs;
      return atMs;
    });
}

const isReading = (atMs: number, local: Temporal.PlainDateTime, zone: string): boolean =>
  Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(zone).toPlainDateTime().equals(local);

/** Minutes or seconds of one local day: by the wall clock, so that they are right on the days of a clock change. */
function ofDayReader(date: string, zone: string, secondsEach: number): TimeReader {
  const midnight = Temporal.PlainDate.from(date).toPlainDateTime();
  return (text) => {
    const count = finite(text, 1);
    if (count === null || count < 0 || count * secondsEach > 86_400) return null;
    return midnight.add({ seconds: count * secondsEach }).toZonedDateTime(zone).epochMilliseconds;
  };
}

function orNull(read: () => number): number | null {
  try {
    return read();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Moves all messages by one amount. */
export function shifted(messages: readonly SimMessage[], shift: Shift, nowMs: number): SimMessage[] {
  const [first, last] = [messages[0], messages.at(-1)];
  if (!first || !last || shift.kind === 'none') return [...messages];
  const byMs = shift.kind === 'end-now' ? nowMs - last.atMs : shift.atMs - first.atMs;
  return messages.map((m) => ({ ...m, atMs: m.atMs + byMs, stampedAtMs: m.stampedAtMs + byMs }));
}
