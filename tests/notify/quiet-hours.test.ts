/** Quiet hours are half-open windows of local time, right across daylight-saving changes. */
import { describe, expect, it } from 'vitest';
import { quietUntilMs } from '../../server/notify/quiet-hours.ts';

const at = (iso: string): number => Date.parse(iso);
const iso = (ms: number | null): string | null => (ms === null ? null : new Date(ms).toISOString());
const night = { from: '22:00', to: '06:30' };

describe('quiet hours', () => {
  it.each([
    // Berlin, summer time (UTC+2)
    ['Europe/Berlin', '2026-05-06T19:59:59Z', null],
    ['Europe/Berlin', '2026-05-06T20:00:00Z', '2026-05-07T04:30:00.000Z'],
    ['Europe/Berlin', '2026-05-07T04:29:59Z', '2026-05-07T04:30:00.000Z'],
    ['Europe/Berlin', '2026-05-07T04:30:00Z', null],
    // The spring night of 29 March 2026 is an hour shorter, the autumn night of 25 October an hour longer.
    ['Europe/Berlin', '2026-03-28T21:00:00Z', '2026-03-29T04:30:00.000Z'],
    ['Europe/Berlin', '2026-10-24T20:00:00Z', '2026-10-25T05:30:00.000Z'],
    // Half an hour of daylight saving, and a zone with half an hour.
    ['Australia/Lord_Howe', '2026-04-04T11:00:00Z', '2026-04-04T20:00:00.000Z'],
    ['America/St_Johns', '2026-05-07T00:30:00Z', '2026-05-07T09:00:00.000Z'],
  ])('in %s at %s until %s', (timeZone, now, until) => {
    expect(iso(quietUntilMs({ ...night, timeZone }, at(now)))).toBe(until);
  });

  it('within one day, and never when both ends are the same', () => {
    const siesta = { from: '13:00', to: '15:00', timeZone: 'UTC' };
    expect(iso(quietUntilMs(siesta, at('2026-05-06T13:00:00Z')))).toBe('2026-05-06T15:00:00.000Z');
    expect(quietUntilMs(siesta, at('2026-05-06T15:00:00Z'))).toBeNull();
    expect(
      quietUntilMs({ from: '07:00', to: '07:00', timeZone: 'UTC' }, at('2026-05-06T07:00:00Z')),
    ).toBeNull();
  });
});
