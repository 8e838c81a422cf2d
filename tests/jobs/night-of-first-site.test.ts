/** A server that starts empty has no time zone of its own: its nights are those of the first site, as soon as there is one. */
import { expect, test } from 'vitest';
import { isDue } from '../../server/jobs/due.ts';
import { housekeeping } from '../../server/jobs/housekeeping.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';

const at = (text: string): number => Date.parse(text);

test.each(['backup', 'retention'])('%s follows the zone of a site that was made after the start', (name) => {
  let timeZone = 'UTC';
  const jobs = housekeeping({
    store: temporaryStore(),
    timeZone: () => timeZone,
    beat: () => Promise.resolve(),
    log: { info: () => undefined },
  });
  const job = jobs.find((one) => one.name === name);
  const lastMs = at('2026-05-10T14:00:00Z');
  // 04:30 in UTC is 18:30 in Honolulu (UTC−10); its next half past four is at 14:30 in UTC.
  const isDueAt = (text: string): boolean | undefined => job && isDue(job.rhythm(), lastMs, at(text));
  expect(isDueAt('2026-05-11T04:30:00Z')).toBe(true);
  timeZone = 'Pacific/Honolulu';
  expect(isDueAt('2026-05-11T04:30:00Z')).toBe(false);
  expect(isDueAt('2026-05-11T14:30:00Z')).toBe(true);
});
