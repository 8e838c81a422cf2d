/** The parent colony as a second witness of the foragers that flew home. Made-up weights: sums by hand. */
import { expect, it } from 'vitest';
import type { NightWeight, WeightStep } from '../../server/signals/types.ts';
import { gainSince, parentNotes } from '../../server/views/nuc/parent-scale.ts';
import { setFor } from '../../server/words/phrase.ts';
import { signals } from '../rules/made-up.ts';

const at = (day: number, hour: number): number => Date.UTC(2026, 4, 10 + day, hour);
const moveMs = at(0, 11);
/** The night that ends on the morning of a day. */
const night = (day: number, levelG: number): NightWeight => ({
  date: new Date(at(day, 4)).toISOString().slice(0, 10),
  fromMs: at(day - 1, 21),
  toMs: at(day, 4),
  levelG,
  slopeGPerH: -5,
  residualG: 3,
  readings: 80,
  coverage: 1,
});
const step = (day: number, sizeG: number, kind: WeightStep['kind'] = 'taken'): WeightStep => ({
  atMs: at(day, 10),
  sizeG,
  sizeSdG: 10,
  kind,
});
const nights = [night(-1, 30_000), night(0, 30_200), night(1, 26_450), night(2, 26_600)];

it.each([
  {
    name: 'frames and bees of the split are taken out, and a visit since',
    nightWeights: [...nights, night(3, 26_650)],
    // 26,650 − 30,200 + 4,000 − 100.
    steps: [step(0, -4000), step(2, 100, 'added')],
    gainG: 350,
  },
  {
    name: 'steps before that night count for nothing',
    nightWeights: nights,
    steps: [step(-1, -900)],
    gainG: -3600,
  },
  { name: 'no night before the move', nightWeights: nights.slice(2), steps: [], gainG: null },
  { name: 'no night since', nightWeights: nights.slice(0, 2), steps: [], gainG: null },
  {
    name: 'a night long after it says nothing',
    nightWeights: [nights[1]!, night(12, 40_000)],
    steps: [],
    gainG: null,
  },
  { name: 'the box was off', nightWeights: nights, steps: [step(1, -26_000, 'gone')], gainG: null },
  { name: 'the scale lost its zero', nightWeights: nights, steps: [step(1, -26_000, 'zeroed')], gainG: null },
])('$name', ({ nightWeights, steps, gainG }) => {
  expect(gainSince({ nightWeights, steps }, moveMs)).toBe(gainG);
});

const say = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });
const note = (steps: WeightStep[]) =>
  parentNotes({ name: 'Hive 3', moveMs, signals: signals({ nightWeights: nights, steps }) }, say)[0];

it('says what it weighs more, and that it proves nothing', () => {
  const more = note([step(0, -4000)]);
  expect(more).toMatchObject({ short: '400 g heavier', level: 'neutral' });
  expect(more?.text).toContain('At night Hive 3 is 400 g heavier than before the move');
  expect(more?.text).toContain('proves nothing');
  expect(note([step(0, -3000)])?.short).toBe('600 g lighter');
  expect(note([step(1, -26_000, 'gone')])).toBeUndefined();
});
