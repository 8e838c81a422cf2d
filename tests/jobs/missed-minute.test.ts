/** A minute in which the machine was too busy is made up, and not shouted about. */
import { afterEach, expect, it, vi } from 'vitest';
import { startJobs } from '../../server/jobs/runner.ts';

afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

it('runs what is due although its minute was missed, without a word to the console', async () => {
  vi.useFakeTimers({ now: Date.UTC(2026, 4, 12, 6, 0, 30) });
  const shouted = (['warn', 'log', 'error'] as const).map((way) => vi.spyOn(console, way));
  let ran = 0;
  const jobs = startJobs(
    [{ name: 'look', rhythm: () => ({ kind: 'every', minutes: 1 }), run: () => void (ran += 1) }],
    {
      clock: () => Date.now(),
      lastSuccess: { get: () => null, set: () => undefined },
      onError: (_, error) => {
        throw error;
      },
    },
  );
  await vi.advanceTimersByTimeAsync(10_000);
  expect(ran).toBe(0);
  // Nobody came to the timers for three minutes.
  vi.setSystemTime(Date.UTC(2026, 4, 12, 6, 3, 40));
  await vi.advanceTimersByTimeAsync(30_000);
  expect(ran).toBeGreaterThan(0);
  for (const way of shouted) expect(way).not.toHaveBeenCalled();
  await jobs.stop();
});
