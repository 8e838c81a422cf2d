/** A job that can't wait for its rhythm, and the one job that may say so. */
import { expect, test } from 'vitest';
import { housekeeping } from '../../server/jobs/housekeeping.ts';
import { startJobs, type Job } from '../../server/jobs/runner.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';

const nowMs = Date.parse('2026-05-01T10:30:00Z');

async function runAt(job: Job): Promise<void> {
  const runner = startJobs([job], {
    clock: () => nowMs,
    lastSuccess: { get: () => nowMs - 60_000, set: () => undefined },
    onError: (_job, error) => {
      throw error;
    },
  });
  await runner.runDue();
  await runner.stop();
}

test.each([
  [true, 1],
  [false, 0],
  [undefined, 0],
])('a job that ran a minute ago and says urgent = %s', async (urgent, runs) => {
  let ran = 0;
  await runAt({
    name: 'hourly',
    rhythm: () => ({ kind: 'every', minutes: 60 }),
    ...(urgent === undefined ? {} : { urgent: () => urgent }),
    run: () => {
      ran += 1;
    },
  });
  expect(ran).toBe(runs);
});

test.each([
  ['a flood of readings is sealed within the minute', true, 1],
  ['what a usual hour brings waits for the hour', false, 0],
])('%s', async (_what, crowded, seals) => {
  const store = temporaryStore();
  let sealed = 0;
  const readings = {
    ...store.readings,
    crowded: () => crowded,
    seal: () => {
      sealed += 1;
      return { channelDays: 0, readings: 0, more: false };
    },
  };
  const jobs = housekeeping({
    store: { ...store, readings },
    timeZone: () => 'UTC',
    beat: () => Promise.resolve(),
    log: { info: () => undefined },
  });
  const job = jobs.find(({ name }) => name === 'seal days');
  if (!job) throw new Error('there is no job that seals');
  await runAt(job);
  expect(sealed).toBe(seals);
});
