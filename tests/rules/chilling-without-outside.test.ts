/** Without an outside temperature and a forecast only the nest tells of the night: its falls, its usual lowest, the hour. */
import { describe, expect, it } from 'vitest';
import { chillingAhead } from '../../server/rules/catalogue/temperature/chilling-ahead.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { ChillOutlook } from '../../server/signals/types.ts';
import { estimate, nucInput, nucSubject, signals } from './made-up.ts';

const hourMs = 3_600_000;
const limitC = 32;

interface Nest {
  readonly falls: NonNullable<ChillOutlook['falls']>;
  readonly latestC: number;
  readonly fallKPerH: number;
  readonly isDark?: boolean;
  /** Lowest of its usual days; absent where there are none yet. */
  readonly usualLowestC?: number;
  /** With an outside sensor, but neither nights of its own nor a number of bees. */
  readonly chanceOfUsual?: number;
}

function verdict({ falls, latestC, fallKPerH, isDark = true, usualLowestC, chanceOfUsual }: Nest): string {
  const minutes = ((latestC - limitC) / fallKPerH) * 60;
  const made = signals();
  const nowMs = made.outlook.nightBeginsMs + (isDark ? 2 : -4) * hourMs;
  const broodDays =
    usualLowestC === undefined
      ? []
      : [1, 2, 3].map((day) => ({
          date: `2026-05-0${String(day)}`,
          medianC: 34.4,
          minC: usualLowestC,
          maxC: 35,
          spreadC: 0.8,
          shareInBand: 1,
          coverage: 1,
        }));
  const unknown = { ok: false, why: 'no outside temperature and no forecast' } as const;
  const outlook: ChillOutlook = {
    ...made.outlook,
    falls,
    minutesToLimit: estimate(minutes, 0.9 * minutes, 1.2 * minutes),
    tonightMinC: unknown,
    chanceBelow: null,
    chanceOfUsual: chanceOfUsual ?? null,
    basis: 'none',
    forecast: chanceOfUsual === undefined ? 'none' : 'persistence',
  };
  const brood = { ...made.brood, latestC, latestAtMs: nowMs };
  const input = nucInput({ nowMs, signals: { ...made, broodDays, brood, outlook } });
  return chillingAhead.evaluate(input, limitsFor(chillingAhead, nucSubject, noLimitSettings)).verdict;
}

describe('close to chilling, without an outside temperature', () => {
  it.each<[string, Nest, string]>([
    ['tells no fall of a nest that swings', { falls: 'turn', latestC: 32.6, fallKPerH: 1.5 }, 'no'],
    [
      'nor where it swings to its limit each day',
      { falls: 'turn', latestC: 32.4, fallKPerH: 1.2, usualLowestC: 32 },
      'no',
    ],
    [
      'tells a slow fall of a nest whose falls go on',
      { falls: 'go-on', latestC: 32.7, fallKPerH: 0.3 },
      'yes',
    ],
    [
      'be it no colder than on its usual days',
      { falls: 'go-on', latestC: 33.2, fallKPerH: 0.6, usualLowestC: 32 },
      'yes',
    ],
    [
      'tells half a degree an hour in the dark, a degree under its usual lowest',
      { falls: 'not-known', latestC: 32.9, fallKPerH: 0.51, usualLowestC: 33.9 },
      'yes',
    ],
    [
      'but not where it goes as low on its usual days',
      { falls: 'not-known', latestC: 33.0, fallKPerH: 1.5, usualLowestC: 33.9 },
      'no',
    ],
    [
      'nor by day, when the cold does not go on',
      { falls: 'not-known', latestC: 32.8, fallKPerH: 0.9, usualLowestC: 33.9, isDark: false },
      'no',
    ],
    [
      'where it does not fall by a degree an hour',
      { falls: 'not-known', latestC: 32.8, fallKPerH: 1, usualLowestC: 33.9, isDark: false },
      'yes',
    ],
    [
      'tells a nest without usual days within a degree of its limit',
      { falls: 'not-known', latestC: 32.9, fallKPerH: 0.51 },
      'yes',
    ],
    ['and none farther from it', { falls: 'not-known', latestC: 33.1, fallKPerH: 0.9 }, 'no'],
    ['unless it falls by a degree an hour', { falls: 'not-known', latestC: 33.1, fallKPerH: 1 }, 'yes'],
    ['but no slow one', { falls: 'not-known', latestC: 32.5, fallKPerH: 0.49 }, 'no'],
    [
      'asks for a degree an hour, and a cold night, where the outside is known and the nest is not',
      { falls: 'not-known', latestC: 32.8, fallKPerH: 0.9, chanceOfUsual: 0.6 },
      'no',
    ],
    [
      'with both it is told',
      { falls: 'turn', latestC: 32.8, fallKPerH: 1.1, chanceOfUsual: 0.6, usualLowestC: 33.9 },
      'yes',
    ],
  ])('%s', (_, nest, expected) => {
    expect(verdict(nest)).toBe(expected);
  });
});
