/** Days and wall clocks of the page against temporal-polyfill, a general-purpose reference for the same arithmetic. */
import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { addDays, daysBetween, instantAt, localDate, localTime } from '../../dashboard/format/calendar.ts';
import {
  age,
  dateInWords,
  dayAndTime,
  nearDay,
  afterArrival,
  relativeDate,
  shortDay,
  untilWhen,
  zoneNote,
} from '../../dashboard/format/when.ts';

const zones = ['UTC', 'Europe/Berlin', 'America/St_Johns', 'Australia/Lord_Howe', 'Pacific/Auckland'];
const anInstant = fc.integer({ min: Date.UTC(2020, 0), max: Date.UTC(2035, 0) });

describe('the site’s clock', () => {
  it('shows the day and time that Temporal shows', () => {
    fc.assert(
      fc.property(anInstant, fc.constantFrom(...zones), (atMs, zone) => {
        const there = Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(zone);
        expect(localDate(atMs, zone)).toBe(there.toPlainDate().toString());
        expect(localTime(atMs, zone)).toBe(there.toPlainTime().toString().slice(0, 5));
      }),
    );
  });

  it('says which of two it is where a time comes twice, and only there', () => {
    const nights = [
      ['Europe/Berlin', '2026-10-25'],
      ['America/St_Johns', '2026-11-01'],
      ['Australia/Lord_Howe', '2026-04-05'],
      ['Europe/Berlin', '2026-03-29'],
      ['UTC', '2026-10-25'],
    ] as const;
    for (const [zone, date] of nights) {
      const fromMs = Temporal.PlainDate.from(date).toZonedDateTime({ timeZone: zone }).epochMilliseconds;
      const times = Array.from({ length: 60 }, (_, i) => fromMs + i * 300_000 * 3);
      expect(new Set(times.map((atMs) => dayAndTime(atMs, zone, fromMs))).size).toBe(times.length);
      for (const atMs of times) {
        const there = Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(zone).toPlainDateTime();
        const [first, last] = (['earlier', 'later'] as const).map(
          (disambiguation) => there.toZonedDateTime(zone, { disambiguation }).epochMilliseconds,
        );
        expect(dayAndTime(atMs, zone, fromMs).includes('UTC'), there.toString()).toBe(first !== last);
      }
    }
    expect(
      dayAndTime(Date.parse('2026-10-25T00:30:00Z'), 'Europe/Berlin', Date.parse('2026-10-25T09:00:00Z')),
    ).toBe('today 02:30 UTC+2');
  });

  it('finds the instant of a day and time as Temporal does, also in the hours that are doubled or left out', () => {
    fc.assert(
      fc.property(
        anInstant,
        fc.integer({ min: 0, max: 1439 }),
        fc.constantFrom(...zones),
        (atMs, minute, zone) => {
          const date = localDate(atMs, zone);
          const time = `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
          const reference = Temporal.PlainDateTime.from(`${date}T${time}`).toZonedDateTime(zone, {
            disambiguation: 'compatible',
          });
          expect(instantAt(date, time, zone)).toBe(reference.epochMilliseconds);
        },
      ),
      { numRuns: 400 },
    );
  });

  it.each([
    { date: '2026-03-29', time: '02:30', zone: 'Europe/Berlin', instant: '2026-03-29T01:30:00Z' },
    { date: '2026-10-25', time: '02:30', zone: 'Europe/Berlin', instant: '2026-10-25T00:30:00Z' },
    { date: '2026-04-05', time: '01:45', zone: 'Australia/Lord_Howe', instant: '2026-04-04T14:45:00Z' },
    { date: '2026-10-04', time: '02:15', zone: 'Australia/Lord_Howe', instant: '2026-10-03T15:45:00Z' },
  ])('$date $time in $zone is $instant', ({ date, time, zone, instant }) => {
    expect(instantAt(date, time, zone)).toBe(Date.parse(instant));
  });

  it('counts calendar days over a change of clocks', () => {
    expect(addDays('2026-03-28', 2)).toBe('2026-03-30');
    expect(daysBetween('2026-10-24', '2026-10-26')).toBe(2);
    fc.assert(
      fc.property(fc.integer({ min: -400, max: 400 }), (n) => {
        expect(daysBetween('2026-05-14', addDays('2026-05-14', n))).toBe(n);
      }),
    );
  });
});

describe('days in words', () => {
  const now = Date.parse('2026-05-14T10:00:00Z');
  it('says today, tomorrow and yesterday by the site’s calendar', () => {
    expect(dayAndTime(Date.parse('2026-05-14T22:30:00Z'), 'Europe/Berlin', now)).toBe('tomorrow 00:30');
    expect(dayAndTime(Date.parse('2026-05-14T22:30:00Z'), 'UTC', now)).toBe('today 22:30');
    expect(dayAndTime(Date.parse('2026-05-01T22:30:00Z'), 'UTC', now)).toBe('Fri 1 May 22:30');
    expect(nearDay('2026-05-13', '2026-05-14')).toBe('yesterday');
    expect(relativeDate('2026-05-15', '2026-05-14')).toBe('tomorrow, Fri 15 May');
  });
  it('says until which day where that day’s midnight is meant', () => {
    expect(untilWhen(Date.parse('2026-05-14T22:00:00Z'), 'Europe/Berlin', now)).toBe('tomorrow');
    expect(untilWhen(Date.parse('2026-05-14T22:00:00Z'), 'UTC', now)).toBe('today 22:00');
    // Clocks go back from 1:00 to midnight in Havana, and on from midnight to 1:00 in Santiago (IANA tz database).
    const back = Date.parse('2026-11-01T04:00:00Z');
    expect(untilWhen(back, 'America/Havana', back - 3_600_000)).toBe('tomorrow');
    const on = Date.parse('2026-09-06T04:00:00Z');
    expect(untilWhen(on, 'America/Santiago', on - 3_600_000)).toBe('tomorrow');
  });
  it('counts from the day on which she comes where nobody knows it', () => {
    expect([0, 1, 8].map(afterArrival)).toEqual([
      'the day she comes',
      '1 day after she comes',
      '8 days after she comes',
    ]);
  });
  it('adds the year where it is another', () => {
    expect(shortDay(Date.parse('2025-05-01T12:00:00Z'), 'UTC', now)).toBe('Thu 1 May 2025');
    expect(dateInWords('2026-05-14')).toBe('Thu 14 May');
    // Months as the server's sentences write them.
    expect(dateInWords('2026-09-05')).toBe('Sat 5 Sep');
  });
  it('names the zone only where clocks differ', () => {
    expect(zoneNote('Europe/Berlin', 'Europe/Paris', now)).toBe('');
    expect(zoneNote('America/St_Johns', 'Europe/Berlin', now)).toBe('America/St Johns time');
  });
  it.each([
    [0, '0 s'],
    [59_000, '59 s'],
    [89 * 60_000, '89 min'],
    [90 * 60_000, '2 h'],
    [47 * 3_600_000, '47 h'],
    [72 * 3_600_000, '3 days'],
    [-5_000, '0 s'],
  ])('an age of %i ms is %s', (ms, words) => {
    expect(age(ms)).toBe(words);
  });
});
