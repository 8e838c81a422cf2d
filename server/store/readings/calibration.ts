/**
 * Calibration and tare: dated facts that are applied when readings are read. What the sensor sent is never rewritten.
 *
 * true = gain × (raw − rawAtZero) + add. Each fact sets its own part from its instant on and leaves the rest.
 */
import { isDeepStrictEqual } from 'node:util';
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export type CalibrationFact =
  | { readonly kind: 'offset'; readonly add: number }
  | { readonly kind: 'scale'; readonly factor: number }
  | {
      readonly kind: 'two-point';
      readonly rawLow: number;
      readonly trueLow: number;
      readonly rawHigh: number;
      readonly trueHigh: number;
    }
  | { readonly kind: 'tare'; readonly rawNow: number };

export interface Calibration {
  readonly id: number;
  readonly channelId: number;
  readonly fromMs: number;
  readonly fact: CalibrationFact;
  readonly writtenAtMs: number;
  readonly by: string | null;
}

/** A straight line from raw to true. */
export class Line {
  readonly gain: number;
  readonly rawAtZero: number;
  readonly add: number;
  /** Some fact gave the gain. */
  readonly scaled: boolean;

  constructor(gain = 1, rawAtZero = 0, add = 0, scaled = false) {
    this.gain = gain;
    this.rawAtZero = rawAtZero;
    this.add = add;
    this.scaled = scaled;
  }

  apply(raw: number): number {
    return this.isIdentity ? raw : this.gain * (raw - this.rawAtZero) + this.add;
  }

  get isIdentity(): boolean {
    return this.gain === 1 && this.rawAtZero === 0 && this.add === 0;
  }
}

/** The line after one more fact. */
function withFact(line: Line, fact: CalibrationFact): Line {
  switch (fact.kind) {
    case 'offset':
      return new Line(line.gain, line.rawAtZero, fact.add, line.scaled);
    case 'scale':
      return new Line(fact.factor, line.rawAtZero, line.add, true);
    case 'tare':
      return new Line(line.gain, fact.rawNow, 0, line.scaled);
    case 'two-point': {
      const gain = (fact.trueHigh - fact.trueLow) / (fact.rawHigh - fact.rawLow);
      return new Line(gain, fact.rawLow, fact.trueLow, true);
    }
  }
}

/** Spans of a channel's life with one line each; the first begins at −∞. `facts` ascend by instant, then by id. */
export function linesOf(facts: readonly Calibration[]): { fromMs: number; line: Line }[] {
  const spans = [{ fromMs: -Infinity, line: new Line() }];
  let line = new Line();
  for (const { fromMs, fact } of facts) {
    line = withFact(line, fact);
    spans.push({ fromMs, line });
  }
  return spans;
}

export function lineAt(facts: readonly Calibration[], atMs: number): Line {
  let line = new Line();
  for (const { fromMs, fact } of facts) {
    if (fromMs > atMs) break;
    line = withFact(line, fact);
  }
  return line;
}

interface CalibrationRow {
  readonly id: number;
  readonly channel_id: number;
  readonly from_ms: number;
  readonly fact: string;
  readonly written_at: number;
  readonly by: string | null;
}

/** Throws where the row can't be read. */
export const toCalibration = (row: CalibrationRow): Calibration => ({
  id: row.id,
  channelId: row.channel_id,
  fromMs: row.from_ms,
  fact: factOf(row.fact),
  writtenAtMs: row.written_at,
  by: row.by,
});

function factOf(text: string): CalibrationFact {
  const fact = JSON.parse(text) as CalibrationFact;
  const { gain, rawAtZero, add } = withFact(new Line(), fact);
  if (![gain, rawAtZero, add].every(Number.isFinite)) throw new RangeError('a calibration that is no line');
  return fact;
}

export interface Calibrations {
  /** Facts of every channel that has any. */
  allCalibrations(): ReadonlyMap<number, readonly Calibration[]>;
  /** Facts of a channel, by the instant from which they hold. */
  calibrationsOf(channelId: number): readonly Calibration[];
  /**
   * The same fact twice is one. Throws `StoreConflict` for an unknown channel or a line that can't be (two points with
   * the same raw value).
   */
  calibrate(
    channelId: number,
    fromMs: number,
    fact: CalibrationFact,
    by?: string,
    writtenAtMs?: number,
  ): Calibration;
  /** Takes back a fact that was a mistake. */
  removeCalibration(id: number): boolean;
}

export function calibrations(context: Context): Calibrations {
  const { db } = context;
  const all = db.prepare<[], CalibrationRow>('SELECT * FROM calibration ORDER BY from_ms, id');
  const insert = db.prepare<[number, number, string, number, string | null]>(
    'INSERT INTO calibration (channel_id, from_ms, fact, written_at, by) VALUES (?, ?, ?, ?, ?)',
  );
  const remove = db.prepare<[number]>('DELETE FROM calibration WHERE id = ?');
  const knownChannel = db.prepare<[number]>('SELECT 1 FROM channel WHERE id = ?');
  // A handful of rows that every read needs.
  let cached: Map<number, Calibration[]> | undefined;
  let cachedVersion = -1;

  const load = (): Map<number, Calibration[]> => {
    const version = context.foreignVersion();
    if (!cached || cachedVersion !== version) {
      cached = new Map();
      const readable = all
        .all()
        .flatMap((row) => context.unreadable.listed('calibration', String(row.id), () => toCalibration(row)));
      for (const fact of readable) {
        const before = cached.get(fact.channelId);
        if (before) before.push(fact);
        else cached.set(fact.channelId, [fact]);
      }
      cachedVersion = version;
    }
    return cached;
  };

  return {
    allCalibrations: load,
    calibrationsOf: (channelId) => load().get(channelId) ?? [],
    calibrate(channelId, fromMs, fact, by, writtenAtMs = context.nowMs()) {
      if (!knownChannel.get(channelId)) throw new StoreConflict(`There is no channel ${String(channelId)}.`);
      refuseImpossible(fact);
      const last = load()
        .get(channelId)
        ?.findLast((one) => one.fromMs === fromMs);
      if (last && isDeepStrictEqual(last.fact, fact)) return last;
      const { lastInsertRowid } = context.write(() =>
        insert.run(channelId, fromMs, JSON.stringify(fact), writtenAtMs, by ?? null),
      );
      cached = undefined;
      return { id: Number(lastInsertRowid), channelId, fromMs, fact, writtenAtMs, by: by ?? null };
    },
    removeCalibration(id) {
      const { changes } = context.write(() => remove.run(id));
      cached = undefined;
      return changes > 0;
    },
  };
}

function refuseImpossible(fact: CalibrationFact): void {
  const gain = withFact(new Line(), fact).gain;
  if (Number.isFinite(gain) && gain !== 0) return;
  throw new StoreConflict(
    'The calibration makes no straight line: two points need different raw and different true values, a scale a factor other than zero.',
  );
}
