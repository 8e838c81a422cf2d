/** The options of a replay: which columns mean what, and which times they have. */
import { isQuantity, toStoredUnit, type Quantity } from '../../server/units.ts';

/** A column by its number (from 1) or by its name in the first row. */
export type Column =
  | { readonly by: 'number'; readonly number: number }
  | { readonly by: 'name'; readonly name: string };

export type TimeSpec = { readonly column: Column } & (
  | { readonly kind: 'iso' | 'unix' | 'unix-ms' | 'local' }
  | { readonly kind: 'minute-of-day' | 'second-of-day'; readonly date: string }
);

export interface ValueSpec {
  readonly column: Column;
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe?: string;
  readonly unit: string;
}

export type Shift =
  | { readonly kind: 'none' }
  | { readonly kind: 'end-now' }
  | { readonly kind: 'start-at'; readonly atMs: number };

export interface ReplayPlan {
  readonly time: TimeSpec;
  readonly values: readonly ValueSpec[];
  /** IANA zone or offset of local times. */
  readonly zone: string;
  readonly missing: readonly string[];
  readonly separator: string;
}

/** Thrown for a bad option; the message is one sentence that names it. */
export class ReplayOptionError extends Error {}

export function parseColumn(text: string): Column {
  const trimmed = text.trim();
  if (/^\d+$/.test(trimmed)) {
    const number = Number(trimmed);
    if (number < 1) throw new ReplayOptionError('columns are numbered from 1: there is no column 0');
    return { by: 'number', number };
  }
  if (trimmed === '')
    throw new ReplayOptionError('a column is named by its number or by its heading, not by nothing');
  return { by: 'name', name: trimmed };
}

const timePattern =
  /^(?<column>.+?)\s+(?:(?<plain>iso|unix|unix-ms|local)|(?<ofDay>minute-of-day|second-of-day)\s+(?<date>\d{4}-\d\d-\d\d))$/;

/** Reads `COLUMN iso`, `COLUMN local`, `COLUMN minute-of-day DATE` and so on. */
export function parseTime(text: string): TimeSpec {
  const found = timePattern.exec(text.trim())?.groups;
  if (!found) {
    throw new ReplayOptionError(
      `--time "${text}" is not COLUMN followed by iso, local, unix, unix-ms, minute-of-day DATE or second-of-day DATE`,
    );
  }
  const column = parseColumn(found['column'] ?? '');
  const plain = found['plain'] as 'iso' | 'unix' | 'unix-ms' | 'local' | undefined;
  if (plain) return { column, kind: plain };
  return { column, kind: found['ofDay'] as 'minute-of-day' | 'second-of-day', date: found['date'] ?? '' };
}

const mapPattern =
  /^(?<column>.+)=(?<sensor>[^/:=+#]+)\/(?<quantity>[^/:=+#]+)(?:\/(?<probe>[^/:=+#]+))?(?::(?<unit>.+))?$/;

/** Reads `COLUMN=SENSOR/QUANTITY[/PROBE][:UNIT]`; without a unit the quantity's stored unit is meant. */
export function parseMap(text: string): ValueSpec {
  const found = mapPattern.exec(text.trim())?.groups;
  if (!found) throw new ReplayOptionError(`--map "${text}" is not COLUMN=SENSOR/QUANTITY[/PROBE][:UNIT]`);
  const quantity = found['quantity'] ?? '';
  if (!isQuantity(quantity)) {
    throw new ReplayOptionError(
      `--map "${text}": "${quantity}" is no quantity; use weight, temperature, humidity, battery or rain`,
    );
  }
  const unit = found['unit'];
  const converted = toStoredUnit(quantity, 1, unit);
  if (!converted.ok) throw new ReplayOptionError(`--map "${text}": ${converted.reason}`);
  const { sensor = '', probe } = found;
  const column = parseColumn(found['column'] ?? '');
  return { column, sensor, quantity, ...(probe ? { probe } : {}), unit: unit ?? converted.unit };
}

/** Reads `none`, `end-now` or `start=INSTANT`. */
export function parseShift(text: string): Shift {
  if (text === 'none' || text === 'end-now') return { kind: text };
  const start = /^start=(.+)$/.exec(text)?.[1];
  const atMs = start === undefined ? NaN : Date.parse(start);
  if (Number.isNaN(atMs)) {
    throw new ReplayOptionError(
      `--shift "${text}" is not none, end-now or start=INSTANT such as start=2026-05-01T00:00Z`,
    );
  }
  return { kind: 'start-at', atMs };
}
