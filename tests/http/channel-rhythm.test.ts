import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { healthOf, inWords, usualIntervalMs } from '../../server/views/channel-rhythm.ts';

const minute = 60_000;

describe('the usual interval', () => {
  it('is not known from four readings, and is from five', () => {
    expect(usualIntervalMs([0, 1, 2, 3])).toBeNull();
    expect(usualIntervalMs([0, 10, 20, 30, 40])).toBe(10);
  });

  it('is moved neither by a night without the gateway nor by a batch that came at once', () => {
    const regular = Array.from({ length: 30 }, (_, i) => i * minute);
    const night = [...regular, ...regular.map((at) => at + 600 * minute)];
    expect(usualIntervalMs(night)).toBe(minute);
    const batch = [...regular, 30 * minute + 1, 30 * minute + 2, 30 * minute + 3];
    expect(usualIntervalMs(batch)).toBe(minute);
  });

  it('lies between the least and the greatest gap', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 1e7 }), { minLength: 4, maxLength: 50 }), (gaps) => {
        const at = gaps.reduce((all, gap) => [...all, (all.at(-1) ?? 0) + gap], [0]);
        const interval = usualIntervalMs(at) ?? 0;
        expect(interval).toBeGreaterThanOrEqual(Math.min(...gaps));
        expect(interval).toBeLessThanOrEqual(Math.max(...gaps));
      }),
    );
  });
});

describe('health', () => {
  // One tick before and after each limit: 2 and 4 intervals, but never sooner than 10 and 45 minutes.
  it.each([
    { ageMin: null, everyMin: null, health: 'new', stale: false },
    { ageMin: 59, everyMin: null, health: 'new', stale: false },
    { ageMin: 61, everyMin: null, health: 'new', stale: true },
    { ageMin: 24 * 60 + 1, everyMin: null, health: 'silent', stale: true },
    { ageMin: 10, everyMin: 1, health: 'fresh', stale: false },
    { ageMin: 11, everyMin: 1, health: 'late', stale: true },
    { ageMin: 45, everyMin: 1, health: 'late', stale: true },
    { ageMin: 46, everyMin: 1, health: 'silent', stale: true },
    { ageMin: 60, everyMin: 30, health: 'fresh', stale: false },
    { ageMin: 61, everyMin: 30, health: 'late', stale: true },
    { ageMin: 120, everyMin: 30, health: 'late', stale: true },
    { ageMin: 121, everyMin: 30, health: 'silent', stale: true },
  ])('last heard $ageMin min ago, every $everyMin min: $health', ({ ageMin, everyMin, health, stale }) => {
    const now = 1e12;
    const latest = ageMin === null ? null : now - ageMin * minute;
    expect(healthOf(latest, everyMin === null ? null : everyMin * minute, now)).toMatchObject({
      health,
      stale,
    });
  });
});

it.each([
  [0, '1 s'],
  [20_000, '20 s'],
  [90_000, '2 min'],
  [119 * minute, '119 min'],
  [120 * minute, '2 h'],
  [47 * 60 * minute, '47 h'],
  [48 * 60 * minute, '2 days'],
])('%i ms is %s', (ms, words) => {
  expect(inWords(ms)).toBe(words);
});
