import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { isDue, lastDueMs, type Rhythm } from '../../server/jobs/due.ts';

const at = (text: string): number => Temporal.Instant.from(text).epochMilliseconds;
const nightly: Rhythm = { kind: 'daily', at: '02:30', timeZone: 'Europe/Berlin' };

describe('a nightly job', () => {
  it.each([
    { name: 'never run', last: null, now: '2026-05-01T10:00:00Z', due: true },
    { name: 'ran after today’s time', last: '2026-05-01T00:31:00Z', now: '2026-05-01T10:00:00Z', due: false },
    {
      name: 'ran yesterday, today’s time not reached',
      last: '2026-04-30T00:31:00Z',
      now: '2026-05-01T00:29:00Z',
      due: false,
    },
    {
      name: 'ran yesterday, exactly at today’s time',
      last: '2026-04-30T00:31:00Z',
      now: '2026-05-01T00:30:00Z',
      due: true,
    },
    {
      name: 'server was off for three days',
      last: '2026-04-27T00:31:00Z',
      now: '2026-05-01T08:00:00Z',
      due: true,
    },
    {
      name: 'success lies in the future: the clock was set back',
      last: '2030-01-01T00:00:00Z',
      now: '2026-05-01T08:00:00Z',
      due: true,
    },
  ])('$name', ({ last, now, due }) => {
    expect(isDue(nightly, last === null ? null : at(last), at(now))).toBe(due);
  });

  it('is due once on the night on which its hour does not exist', () => {
    // 29 March 2026: 02:00 becomes 03:00 in Berlin; 02:30 moves to 03:30 summer time.
    expect(lastDueMs(nightly, at('2026-03-29T10:00:00Z'))).toBe(at('2026-03-29T01:30:00Z'));
    expect(isDue(nightly, at('2026-03-28T01:31:00Z'), at('2026-03-29T01:31:00Z'))).toBe(true);
    expect(isDue(nightly, at('2026-03-29T01:31:00Z'), at('2026-03-29T20:00:00Z'))).toBe(false);
  });

  it('is due once on the night on which its hour comes twice', () => {
    // 25 October 2026: 03:00 becomes 02:00; the first 02:30 counts.
    expect(isDue(nightly, at('2026-10-25T00:31:00Z'), at('2026-10-25T01:31:00Z'))).toBe(false);
  });
});

describe('a job every few minutes', () => {
  const fiveMinutes: Rhythm = { kind: 'every', minutes: 5 };
  it.each([
    { name: 'just ran', last: '2026-05-01T10:05:00Z', now: '2026-05-01T10:09:59Z', due: false },
    { name: 'next slot', last: '2026-05-01T10:05:00Z', now: '2026-05-01T10:10:00Z', due: true },
  ])('$name', ({ last, now, due }) => {
    expect(isDue(fiveMinutes, at(last), at(now))).toBe(due);
  });
});
