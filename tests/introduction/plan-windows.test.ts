/**
 * The window of each visit, to the minute: what its days rest on, and what moves it. Days are common practice; the
 * first virgin on day 8½ and a cell of eight days stand in `published/`.
 */
import { describe, expect, it } from 'vitest';
import {
  cutWindow,
  hangWindow,
  late,
  lookAgainWindow,
  lookWindow,
  nextVisit,
  oneMoreLookWindow,
  openWindow,
  ownQueenWindow,
  searchAgainWindow,
  sealedBroodWindow,
  secondLookWindow,
  splitWindow,
  type Clock,
  type StepWindow,
} from '../../server/introduction/acts/days/plan-windows.ts';

const clock: Clock = { timeZone: 'UTC', visitHour: 10 };
/** Of May 2027. */
const at = (dayOfMay: number, hour = 0, minute = 0): number => Date.UTC(2027, 4, dayOfMay, hour, minute);
const text = (ms: number): string => new Date(ms).toISOString().slice(8, 16).replace('T', ' ');
const shown = ({ earliestMs, targetMs, latestMs }: StepWindow): string =>
  [earliestMs, targetMs, latestMs].map(text).join(' | ');

/** The split, or whatever else the window counts from. */
const began = at(1, 14);

describe('the window of', () => {
  it.each([
    {
      what: 'a split without a date for its queen: its day and the next two',
      window: () => splitWindow(began, undefined, clock),
      expected: '01 00:00 | 01 14:00 | 03 00:00',
    },
    {
      what: 'a split for a queen of the 10th: eight to six days before her',
      window: () => splitWindow(at(3, 10), at(10, 9), clock),
      expected: '02 00:00 | 03 10:00 | 04 23:59',
    },
    {
      what: 'a split that comes later than that',
      window: () => splitWindow(at(7, 10), at(10, 9), clock),
      expected: '02 00:00 | 07 10:00 | 07 10:00',
    },
    {
      what: 'the cut that counts: day 7, until the first virgin on day 8½',
      window: () => cutWindow(began, began, clock),
      expected: '08 00:00 | 08 10:00 | 10 02:00',
    },
    {
      what: 'the cut where eggs came later than queenlessness: never later than its own day',
      window: () => cutWindow(at(5, 14), began, clock),
      expected: '12 00:00 | 12 10:00 | 12 10:00',
    },
    {
      what: 'the second look: two to four days after the cut',
      window: () => secondLookWindow(at(8, 10), clock),
      expected: '10 00:00 | 11 10:00 | 12 23:59',
    },
    {
      what: 'one more look: the next day',
      window: () => oneMoreLookWindow(at(11, 10), at(14), null, clock),
      expected: '12 00:00 | 12 10:00 | 14 00:00',
    },
    {
      what: 'one more look: with a visit that is made anyway',
      window: () => oneMoreLookWindow(at(11, 10), at(14), at(13, 10), clock),
      expected: '12 00:00 | 13 10:00 | 14 00:00',
    },
    {
      what: 'one more look: with a visit at the last instant at which it tells as much',
      window: () => oneMoreLookWindow(at(11, 10), at(13, 10), at(13, 10), clock),
      expected: '12 00:00 | 13 10:00 | 13 10:00',
    },
    {
      what: 'one more look: not with a visit that comes too late',
      window: () => oneMoreLookWindow(at(11, 10), at(13), at(13, 10), clock),
      expected: '12 00:00 | 12 10:00 | 13 00:00',
    },
    {
      what: 'one more look: not with a visit of the same day',
      window: () => oneMoreLookWindow(at(11, 10), at(14), at(11, 18), clock),
      expected: '12 00:00 | 12 10:00 | 14 00:00',
    },
    {
      what: 'one more look where the day for it is past',
      window: () => oneMoreLookWindow(at(11, 10), at(11, 12), null, clock),
      expected: '12 00:00 | 12 10:00 | 12 10:00',
    },
    {
      what: 'a laying queen of one’s own: the next day, until a virgin could emerge',
      window: () => ownQueenWindow(began, null, clock),
      expected: '01 14:00 | 02 10:00 | 10 02:00',
    },
    {
      what: 'a laying queen of one’s own that is there since the 4th',
      window: () => ownQueenWindow(began, at(4, 12), clock),
      expected: '01 14:00 | 05 10:00 | 10 02:00',
    },
    {
      what: 'a laying queen of one’s own that comes after the virgin could have emerged',
      window: () => ownQueenWindow(began, at(12, 9), clock),
      expected: '01 14:00 | 12 10:00 | 12 10:00',
    },
    {
      what: 'the cage: with the cut while no queen is there',
      window: () => hangWindow(began, at(8, 10), null, at(11, 10), clock),
      expected: '01 14:00 | 08 10:00 | 10 10:00',
    },
    {
      what: 'the cage: the day she comes where the cut is two days off or more',
      window: () => hangWindow(began, at(8, 10), at(5, 9), at(11, 10), clock),
      expected: '05 09:00 | 05 10:00 | 10 10:00',
    },
    {
      what: 'the cage: the cut of the second day after is far enough off',
      window: () => hangWindow(began, at(7, 10), at(5, 12), at(11, 10), clock),
      expected: '05 12:00 | 05 12:00 | 10 10:00',
    },
    {
      what: 'the cage: with the cut where that is the next day',
      window: () => hangWindow(began, at(6, 10), at(5, 9), at(11, 10), clock),
      expected: '05 09:00 | 06 10:00 | 10 10:00',
    },
    {
      what: 'the cage of a queen who comes with the post of the day of the cut: the same day',
      window: () => hangWindow(began, at(8, 10), at(8, 12), at(11, 10), clock),
      expected: '08 12:00 | 08 12:00 | 10 10:00',
    },
    {
      what: 'the cage of a queen that comes after the cut',
      window: () => hangWindow(began, at(8, 10), at(12, 15), at(11, 10), clock),
      expected: '12 15:00 | 12 15:00 | 12 23:59',
    },
    {
      what: 'the candy end: a day after she was hung, by her tenth day in the cage',
      window: () => openWindow(at(8, 10), at(8, 10), null, false, clock),
      expected: '09 10:00 | 09 10:00 | 18 10:00',
    },
    {
      what: 'the candy end: counted from her arrival, with the last look',
      window: () => openWindow(at(11, 10), at(8, 10), at(5, 9), false, clock),
      expected: '11 00:00 | 11 10:00 | 15 09:00',
    },
    {
      what: 'the mesh: on her fourth day',
      window: () => openWindow(at(8, 10), at(8, 10), null, true, clock),
      expected: '11 00:00 | 12 10:00 | 18 10:00',
    },
    {
      what: 'the mesh: in the last look, where she has had three days',
      window: () => openWindow(at(11, 10), at(8, 10), null, true, clock),
      expected: '11 00:00 | 11 10:00 | 18 10:00',
    },
    {
      what: 'the look for the queen: a week after the release, four days long',
      window: () => lookWindow(began, at(7), clock),
      expected: '07 00:00 | 08 10:00 | 11 23:59',
    },
    {
      what: 'another look for eggs: four days later, until two weeks after the release',
      window: () => lookAgainWindow(at(8, 10), began, clock),
      expected: '11 00:00 | 12 10:00 | 15 23:59',
    },
    {
      what: 'another look for eggs late on: never later than its own day',
      window: () => lookAgainWindow(at(14, 10), began, clock),
      expected: '17 00:00 | 18 10:00 | 18 10:00',
    },
    {
      what: 'another search for a queen that was not found',
      window: () => searchAgainWindow(began, clock),
      expected: '05 00:00 | 05 10:00 | 06 23:59',
    },
    {
      what: 'the check of the sealed brood: ten days after the first eggs',
      window: () => sealedBroodWindow(began, clock),
      expected: '10 00:00 | 11 10:00 | 15 00:00',
    },
  ])('$what', ({ window, expected }) => {
    expect(shown(window())).toBe(expected);
  });
});

describe('a visit whose day has gone by', () => {
  const asked: StepWindow = { earliestMs: at(8), targetMs: at(8, 10), latestMs: at(10, 2) };
  it.each([
    { what: 'keeps its hour on its own day', nowMs: at(8, 18), expected: '08 00:00 | 08 10:00 | 10 02:00' },
    { what: 'is for today afterwards', nowMs: at(9, 18), expected: '08 00:00 | 09 10:00 | 10 02:00' },
    {
      what: 'is for now where its window ends before that hour',
      nowMs: at(10, 1),
      expected: '08 00:00 | 10 01:00 | 10 02:00',
    },
    {
      what: 'is for now in the last instant too',
      nowMs: at(10, 2),
      expected: '08 00:00 | 10 02:00 | 10 02:00',
    },
    {
      what: 'stays for today once its window is over',
      nowMs: at(10, 3),
      expected: '08 00:00 | 10 10:00 | 10 02:00',
    },
  ])('$what', ({ nowMs, expected }) => {
    expect(shown(late(asked, nowMs, clock))).toBe(expected);
  });

  it('keeps its hour where its window ends with it', () => {
    const untilTen = { ...asked, latestMs: at(10, 10) };
    expect(shown(late(untilTen, at(10, 8), clock))).toBe('08 00:00 | 10 10:00 | 10 10:00');
  });

  it('is not overdue on the day for which it was planned', () => {
    const atOnce = { earliestMs: at(8), targetMs: at(8, 10), latestMs: at(8, 10) };
    expect(shown(late(atOnce, at(7), clock))).toBe('08 00:00 | 08 10:00 | 08 23:59');
  });

  it('is not moved before its window', () => {
    const toCome = { earliestMs: at(12), targetMs: at(8, 10), latestMs: at(14) };
    expect(shown(late(toCome, at(9), clock))).toBe('12 00:00 | 12 00:00 | 14 00:00');
  });
});

describe('the next visit', () => {
  it.each([
    { what: 'today before the hour', atMs: at(5, 9), expected: '05 10:00' },
    { what: 'today at the hour', atMs: at(5, 10), expected: '05 10:00' },
    { what: 'tomorrow after it', atMs: at(5, 10, 1), expected: '06 10:00' },
  ])('is $what', ({ atMs, expected }) => {
    expect(text(nextVisit(atMs, clock))).toBe(expected);
  });

  it('is at the keeper’s hour on either side of a change of the clocks', () => {
    // Summer time began in Berlin on 28 March 2027 at 2 o'clock (IANA time zone database).
    const berlin = { timeZone: 'Europe/Berlin', visitHour: 10 };
    const cut = cutWindow(Date.UTC(2027, 2, 25, 13), Date.UTC(2027, 2, 25, 13), berlin);
    expect(new Date(cut.earliestMs).toISOString()).toBe('2027-03-31T22:00:00.000Z');
    expect(new Date(cut.targetMs).toISOString()).toBe('2027-04-01T08:00:00.000Z');
    expect(new Date(cut.latestMs).toISOString()).toBe('2027-04-03T01:00:00.000Z');
  });
});
