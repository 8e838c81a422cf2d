/** What the sensors outside tell somebody who wants to open a nuc: the newest reading, and no old one. */
import { expect, it } from 'vitest';
import { outsideNow } from '../../server/signals/outside-now.ts';
import { seriesOf } from '../../server/signals/series.ts';

const nowMs = Date.UTC(2026, 4, 20, 12);
const minutesAgo = (minutes: number): number => nowMs - minutes * 60_000;
const one = (minutes: number, value: number) => seriesOf([{ atMs: minutesAgo(minutes), value }]);

it.each([
  { name: 'nothing outside', outside: undefined, rain: undefined, temperatureC: null, rained: null },
  { name: 'a reading of now', outside: one(5, 17), rain: one(5, 0), temperatureC: 17, rained: false },
  { name: 'two hours old', outside: one(120, 17), rain: one(120, 0), temperatureC: 17, rained: false },
  { name: 'older', outside: one(121, 17), rain: one(121, 0), temperatureC: null, rained: null },
  { name: 'rain ten minutes ago', outside: one(5, 17), rain: one(10, 0.2), temperatureC: 17, rained: true },
  { name: 'rain an hour ago', outside: one(5, 17), rain: one(60, 0.2), temperatureC: 17, rained: false },
  { name: 'a gauge alone', outside: undefined, rain: one(10, 0.2), temperatureC: null, rained: true },
])('$name', ({ outside, rain, temperatureC, rained }) => {
  expect(outsideNow(outside, rain, nowMs)).toEqual({ temperatureC, rained });
});
