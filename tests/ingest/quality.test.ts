import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { qualityGate } from '../../ingest/quality.ts';
import type { CalibratedChannel, IncomingReading } from '../../server/store/port.ts';

const start = Date.parse('2026-05-14T06:00:00Z');
const minute = 60_000;
type Kind = Pick<IncomingReading, 'quantity' | 'unit'>;
const celsius: Kind = { quantity: 'temperature', unit: 'Cel' };
const kilos: Kind = { quantity: 'weight', unit: 'kg' };

const reading = (kind: Kind, value: number, atMs: number): IncomingReading => ({
  sensor: 's',
  probe: '',
  ...kind,
  value,
  observedAtMs: atMs,
  receivedAtMs: atMs,
});

/** The flags of one value a minute. */
function flags(kind: Kind, values: readonly number[], everyMs = minute): readonly string[] {
  const gate = qualityGate();
  return values.map(
    (value, index) => gate.judge(reading(kind, value, start + index * everyMs)).suspect ?? '-',
  );
}

test.each<{ what: string; kind: Kind; values: readonly number[]; expected: readonly string[] }>([
  {
    what: '85 as an isolated jump',
    kind: celsius,
    values: [34.5, 85, 34.5],
    expected: ['-', 'sentinel', '-'],
  },
  { what: '85 as the first of all', kind: celsius, values: [85, 34.5], expected: ['sentinel', '-'] },
  { what: '85 that was approached', kind: celsius, values: [70, 78, 85], expected: ['-', '-', '-'] },
  {
    what: 'a failed conversion',
    kind: celsius,
    values: [34.5, 127.94, 127.9375, 34.5],
    expected: ['-', 'sentinel', 'sentinel', '-'],
  },
  { what: 'disconnected', kind: celsius, values: [34.5, -127, 34.5], expected: ['-', 'sentinel', '-'] },
  {
    what: 'open circuit',
    kind: celsius,
    values: [34.5, -273.15, 327.67, 999],
    expected: ['-', 'sentinel', 'sentinel', 'sentinel'],
  },
  { what: 'not of this world', kind: celsius, values: [34.5, 96, -60], expected: ['-', 'range', 'range'] },
  {
    what: 'a probe pulled out: doubted once, then believed',
    kind: celsius,
    values: [34.5, 12, 11.8, 11.7],
    expected: ['-', 'rate', '-', '-'],
  },
  {
    what: 'a single wrong reading',
    kind: celsius,
    values: [34.5, 12, 34.4, 34.5],
    expected: ['-', 'rate', '-', '-'],
  },
  {
    what: 'a humidity beyond 100',
    kind: { quantity: 'humidity', unit: '%RH' },
    values: [60, 100.5, 998],
    expected: ['-', 'range', 'sentinel'],
  },
  {
    what: 'a frame added is a step, not a fault',
    kind: kilos,
    values: [12, 12, 12, 12, 12, 14.4, 14.4],
    expected: ['-', '-', '-', '-', '-', '-', '-'],
  },
  {
    what: 'a knock on the scale',
    kind: kilos,
    values: [12, 12.1, 12, 12.1, 12, 31, 12],
    expected: ['-', '-', '-', '-', '-', 'spike', '-'],
  },
  {
    what: 'lifted off, be it for one reading, is no fault',
    kind: kilos,
    values: [12, 12.1, 12, 12.1, 12, 0, 0, 0.1],
    expected: ['-', '-', '-', '-', '-', '-', '-', '-'],
  },
  { what: 'the converter at its end', kind: kilos, values: [12, 8_388_607], expected: ['-', 'sentinel'] },
])('$what', ({ kind, values, expected }) => {
  expect(flags(kind, values)).toEqual(expected);
});

test('after an hour of silence the last value says nothing about this one', () => {
  expect(flags(celsius, [34.5, 5, 34.5], 2 * 60 * minute)).toEqual(['-', '-', '-']);
});

test('the very same temperature for two days is stuck, and no longer when it moves', () => {
  const steady = Array.from({ length: 49 * 6 }, () => 34.5);
  const found = flags(celsius, [...steady, 34.6], 10 * minute);
  const first = found.indexOf('stuck');
  expect(first * 10).toBeGreaterThanOrEqual(48 * 60);
  expect(first * 10).toBeLessThanOrEqual(48 * 60 + 20);
  expect(found.at(-1)).toBe('-');
});

test('rain may stand still for ever', () => {
  const dry = Array.from({ length: 3000 }, () => 0);
  expect(new Set(flags({ quantity: 'rain', unit: 'mm' }, dry, 60 * minute))).toEqual(new Set(['-']));
});

test('a late reading does not disturb the picture of the newest', () => {
  const gate = qualityGate();
  gate.judge(reading(celsius, 34.5, start));
  gate.judge(reading(celsius, 12, start - 60 * minute));
  expect(gate.judge(reading(celsius, 34.6, start + minute)).suspect).toBeUndefined();
});

test('a flag that the decoder set stays', () => {
  const flagged = { ...reading(celsius, 34.5, start), suspect: 'clock' as const };
  expect(qualityGate().judge(flagged)).toBe(flagged);
});

test('raw values are kept whatever is thought of them, and memory is bounded', () => {
  const gate = qualityGate();
  fc.assert(
    fc.property(fc.double({ noNaN: true }), fc.nat(1e9), fc.string(), (value, offset, sensor) => {
      const given = { ...reading(celsius, value, start + offset), sensor };
      const { suspect: _suspect, ...kept } = gate.judge(given);
      expect(kept).toEqual(given);
    }),
    { numRuns: 500, seed: 3 },
  );
  for (let index = 0; index < 25_000; index += 1)
    gate.judge({ ...reading(celsius, 20, start), sensor: `x${String(index)}` });
  expect(gate.channels()).toBeLessThanOrEqual(20_000);
});

describe('raw counts of a scale', () => {
  const counts = (thousands: number, atMs: number): IncomingReading => ({
    ...reading(kilos, thousands, atMs),
    suspect: 'uncalibrated',
  });
  /** 20 counts a gram, 84,000 with nothing on; holds from `fromMs` on. */
  const calibrated = (fromMs: number, scaled = true): CalibratedChannel => {
    const line = { scaled, apply: (raw: number) => (raw - 84) / 20 };
    const before = { scaled: false, apply: (raw: number) => raw };
    return {
      channel: { sensor: 's', probe: '', quantity: 'weight', unit: 'kg' },
      lineAt: (atMs) => (atMs >= fromMs ? line : before),
    };
  };

  test('are no weight before a calibration, whatever they are', () => {
    const gate = qualityGate();
    for (const thousands of [84, 324, 900, 8388])
      expect(gate.judge(counts(thousands, start))).toEqual(counts(thousands, start));
    gate.setCalibrated([calibrated(start, false)]);
    expect(gate.judge(counts(324, start)).suspect).toBe('uncalibrated');
  });

  test('are judged by the weight that they mean afterwards, and kept as they came', () => {
    const gate = qualityGate();
    gate.setCalibrated([calibrated(start)]);
    expect(gate.judge(counts(324, start))).toEqual(reading(kilos, 324, start));
    expect(gate.judge(counts(900, start + minute)).suspect).toBeUndefined();
    expect(gate.judge(counts(84 + 20 * 501, start + 2 * minute)).suspect).toBe('range');
    // From before the calibration.
    expect(gate.judge(counts(324, start - minute)).suspect).toBe('uncalibrated');
  });

  test('at the end of the converter are none, calibrated or not', () => {
    const gate = qualityGate();
    expect(gate.judge(counts(8388.607, start)).suspect).toBe('sentinel');
    gate.setCalibrated([calibrated(start)]);
    expect(gate.judge(counts(-8388.608, start)).suspect).toBe('sentinel');
  });

  test('a new calibration is no jump of the sensor', () => {
    const gate = qualityGate();
    gate.setCalibrated([calibrated(start)]);
    for (let at = 0; at < 6; at += 1) gate.judge(counts(324, start + at * minute));
    const doubled = calibrated(start);
    const line = { scaled: true, apply: (raw: number) => (raw - 84) / 10 };
    gate.setCalibrated([{ ...doubled, lineAt: () => line }]);
    expect(gate.judge(counts(324, start + 6 * minute)).suspect).toBeUndefined();
  });
});

test('a smooth day of a real probe raises nothing', () => {
  // Common practice: a brood nest keeps within about a degree, an outside probe swings 15 °C a day.
  const outside = Array.from({ length: 1440 }, (_, at) => 12 + 7.5 * Math.sin((at / 1440) * 2 * Math.PI));
  expect(new Set(flags(celsius, outside))).toEqual(new Set(['-']));
});
