/** What the runner does when a clock is put right, when a job fails again and again, and when one takes long. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { housekeeping } from '../../server/jobs/housekeeping.ts';
import { startJobs, type Job } from '../../server/jobs/runner.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';

const hour = 3_600_000;
const morning = Date.UTC(2031, 4, 12, 6, 0, 30);

beforeEach(() => {
  vi.useFakeTimers({
    now: morning,
    toFake: ['Date', 'performance', 'setTimeout', 'clearTimeout', 'setInterval', 'clearInterval'],
  });
});
afterEach(() => {
  vi.useRealTimers();
});

function started(jobs: readonly Job[]) {
  const success = new Map<string, number>();
  const failed: string[] = [];
  const runner = startJobs(jobs, {
    clock: Date.now,
    lastSuccess: { get: (name) => success.get(name) ?? null, set: (name, at) => success.set(name, at) },
    onError: (name) => failed.push(name),
  });
  return { ...runner, failed };
}

const every = (minutes: number, run: () => void | Promise<void>, more: Partial<Job> = {}): Job => ({
  name: 'look',
  rhythm: () => ({ kind: 'every', minutes }),
  run,
  ...more,
});

describe('a clock that is put right', () => {
  it.each([
    ['set back by three hours', -3 * hour],
    ['set ahead by two years', 2 * 365 * 24 * hour],
  ])('%s leaves every minute its run', async (_what, by) => {
    let ran = 0;
    const runner = started([every(1, () => void (ran += 1))]);
    await vi.advanceTimersByTimeAsync(2 * 60_000);
    expect(ran).toBe(2);
    vi.setSystemTime(Date.now() + by);
    const began = process.hrtime.bigint();
    await vi.advanceTimersByTimeAsync(5 * 60_000);
    expect(ran).toBeGreaterThanOrEqual(6);
    // The server does nothing else meanwhile.
    expect(Number(process.hrtime.bigint() - began) / 1e9).toBeLessThan(10);
    await runner.stop();
  });
});

describe('a job that fails', () => {
  const fails = (): never => {
    throw new Error('the disk is full');
  };

  it('every night is tried again after a minute, and then ever more rarely, up to once an hour', async () => {
    const nightly: Job = {
      name: 'backup',
      rhythm: () => ({ kind: 'daily', at: '02:40', timeZone: 'UTC' }),
      run: fails,
    };
    const runner = started([nightly]);
    await vi.advanceTimersByTimeAsync(2 * 60_000);
    expect(runner.failed).toHaveLength(2);
    await vi.advanceTimersByTimeAsync(24 * hour);
    expect(runner.failed.length).toBeGreaterThan(24);
    expect(runner.failed.length).toBeLessThan(35);
    await runner.stop();
  });

  it('is never tried more rarely than it would run', async () => {
    const runner = started([every(5, fails)]);
    await vi.advanceTimersByTimeAsync(3 * hour);
    expect(runner.failed.length).toBeGreaterThanOrEqual(36);
    await runner.stop();
  });

  it('begins anew after a success', async () => {
    let bad = true;
    let ran = 0;
    const runner = started([
      every(1, () => {
        ran += 1;
        if (bad) fails();
      }),
    ]);
    await vi.advanceTimersByTimeAsync(hour);
    bad = false;
    await vi.advanceTimersByTimeAsync(hour);
    bad = true;
    ran = 0;
    await vi.advanceTimersByTimeAsync(2 * 60_000);
    expect(ran).toBe(2);
    await runner.stop();
  });
});

it('a long backup holds up neither the heartbeat nor the sealing', async () => {
  const store = temporaryStore();
  let beats = 0;
  let seals = 0;
  let done = (): void => undefined;
  const jobs = housekeeping({
    store: {
      ...store,
      readings: {
        ...store.readings,
        crowded: () => false,
        seal: () => {
          seals += 1;
          return { channelDays: 0, readings: 0, more: false };
        },
      },
      backup: () =>
        new Promise((resolve) => {
          done = () => {
            resolve({ file: 'x', bytes: 1, atMs: 0, verified: true });
          };
        }),
    },
    timeZone: () => 'UTC',
    beat: () => Promise.resolve(void (beats += 1)),
    log: { info: () => undefined },
  });
  const runner = started(jobs);
  await vi.advanceTimersByTimeAsync(2 * hour);
  expect(beats).toBeGreaterThanOrEqual(24);
  expect(seals).toBeGreaterThanOrEqual(2);
  done();
  await runner.stop();
});
