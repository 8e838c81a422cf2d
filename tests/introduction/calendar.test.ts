/** Dates across changes of daylight-saving time, against the ECMAScript time zone data through `Intl`. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  atHourOfDate,
  dayNumber,
  dayPosition,
  isoDate,
  onDayAt,
  startOfDay,
  startOfDayAfter,
} from '../../server/introduction/calendar.ts';
import { mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { planIntroduction } from '../../server/introduction/plan/plan.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import { at, facts, logOf, setupOf } from './support/field-log.ts';

const zones = [
  'UTC',
  'Europe/Berlin',
  'America/St_Johns',
  'Australia/Lord_Howe',
  'Pacific/Kiritimati',
  'Pacific/Pago_Pago',
] as const;
/** Days about the changes of 2027 in these zones. */
const aboutChanges = ['2027-03-14', '2027-03-28', '2027-04-04', '2027-10-03', '2027-10-31', '2027-11-07'];

const instants = fc.oneof(
  fc.integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2028, 0, 1) }),
  fc
    .tuple(fc.constantFrom(...aboutChanges), fc.integer({ min: -3 * 86_400_000, max: 3 * 86_400_000 }))
    .map(([date, off]) => Date.parse(`${date}T00:00:00Z`) + off),
);

/** The date on the wall, by `Intl`. */
const wallDate = (ms: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(
    ms,
  );
const wallHour = (ms: number, timeZone: string): number =>
  Number(new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', hourCycle: 'h23' }).format(ms));

describe.each(zones)('%s', (zone) => {
  it('names the same date as the wall', () => {
    fc.assert(
      fc.property(instants, (ms) => {
        expect(isoDate(ms, zone)).toBe(wallDate(ms, zone));
      }),
    );
  });

  it('begins a day where the date on the wall changes', () => {
    fc.assert(
      fc.property(instants, (ms) => {
        const start = startOfDay(ms, zone);
        expect(start).toBeLessThanOrEqual(ms);
        expect(wallDate(start, zone)).toBe(wallDate(ms, zone));
        expect(wallDate(start - 1, zone)).not.toBe(wallDate(ms, zone));
      }),
    );
  });

  it('counts days as dates differ, and steps from one to the next', () => {
    fc.assert(
      fc.property(instants, fc.integer({ min: -60, max: 60 }), (ms, days) => {
        const there = startOfDayAfter(ms, days, zone);
        const dates = (Date.parse(isoDate(there, zone)) - Date.parse(isoDate(ms, zone))) / 86_400_000;
        expect(dates).toBe(days);
        expect(dayNumber(ms, there, zone)).toBe(days);
      }),
    );
  });

  it('keeps the hour of a visit on the wall', () => {
    fc.assert(
      fc.property(instants, fc.integer({ min: 0, max: 60 }), (ms, days) => {
        expect(wallHour(onDayAt(ms, days, 10, zone), zone)).toBe(10);
        expect(atHourOfDate(isoDate(ms, zone), 10, zone)).toBe(onDayAt(ms, 0, 10, zone));
        // A change can skip or repeat an hour in the small hours only.
        const hour = wallHour(ms, zone);
        if (hour > 4) expect(wallHour(addDays(ms, days, zone), zone)).toBe(hour);
      }),
    );
  });

  it('lays the day on the rail from 0 to 1 whatever its length', () => {
    fc.assert(
      fc.property(instants, (ms) => {
        const start = startOfDay(ms, zone);
        expect(dayPosition(start, ms, zone)).toBeGreaterThanOrEqual(0);
        expect(dayPosition(start, ms, zone)).toBeLessThan(1);
        expect(dayPosition(start, startOfDayAfter(ms, 1, zone), zone)).toBe(1);
      }),
    );
  });

  it.each(aboutChanges)('keeps days 7, 10 and 17 for a split five days before %s', (date) => {
    const split = at(-5, 10, zone, date);
    const day = (n: number, hour = 10): number => at(n - 5, hour, zone, date);
    const setup = setupOf({ timeZone: zone, openedAtMs: split });
    const log = logOf([
      [split, facts.split()],
      [day(7), facts.cut({ sealed: 8 })],
      [day(7, 11), facts.hung()],
      [day(10), facts.cut()],
      [day(10, 11), facts.opened()],
    ]);
    const early = foldIntroduction(setup, log, day(1));
    const days = planIntroduction(early).map((s) => [
      s.kind,
      dayNumber(split, s.targetMs, zone),
      wallHour(s.targetMs, zone),
    ]);
    expect(days).toContainEqual(['cut-cells', 7, 10]);
    expect(days).toContainEqual(['second-look', 10, 10]);
    expect(days).toContainEqual(['look-for-queen', 17, 10]);
    const open = (ms: number) => mayOpenCandy(foldIntroduction(setup, log, ms), noEvidence, ms).answer;
    expect([open(day(9)), open(day(10, 10.5))]).toEqual(['wait', 'go']);
    const look = (ms: number) => mayLookForQueen(foldIntroduction(setup, log, ms), noEvidence, ms).answer;
    expect([day(16, 9.9), day(16, 12.1), day(16, 23), day(17, 0.1)].map(look)).toEqual([
      'stop',
      'wait',
      'wait',
      'go',
    ]);
  });
});

it('says what is not a date', () => {
  expect(() => atHourOfDate('2027-02-30', 10, 'UTC')).toThrow(RangeError);
});

describe('a day that is longer or shorter', () => {
  // Summer time began in Berlin on 28 March 2027 at 2 o'clock (IANA time zone database).
  const berlin = 'Europe/Berlin';
  it('has its noon where it is on a rail', () => {
    const noon = Date.UTC(2027, 2, 28, 10);
    expect(dayPosition(noon, noon, berlin)).toBeCloseTo(11 / 23, 9);
    const usual = Date.UTC(2027, 2, 27, 11);
    expect(dayPosition(usual, usual, berlin)).toBeCloseTo(0.5, 9);
  });

  it('is stepped over backwards too, and with more than a year at once', () => {
    expect(addDays(Date.UTC(2027, 2, 28, 10), -1, berlin)).toBe(Date.UTC(2027, 2, 27, 11));
    expect(addDays(Date.UTC(2027, 2, 27, 11), 1, berlin)).toBe(Date.UTC(2027, 2, 28, 10));
    expect(addDays(Date.UTC(2027, 2, 27, 11), 600, berlin)).toBe(Date.UTC(2028, 10, 16, 11));
  });
});
