/** Days on which nobody can come, and who needs a trip: the days themselves, to the hour. */
import { describe, expect, it } from 'vitest';
import { avoidUnavailable, trips } from '../../server/introduction/acts/days/plan-days.ts';
import type { PlanStep } from '../../server/introduction/acts/plan-step.ts';

const timeZone = 'UTC';
const at = (dayOfMay: number, hour = 10): number => Date.UTC(2027, 4, dayOfMay, hour);
const step = (over: Partial<PlanStep> = {}): PlanStep => ({
  id: 'i1:cut-cells',
  introductionId: 'i1',
  nucId: 'n1',
  kind: 'cut-cells',
  label: 'Cut the cells',
  logAs: 'cells-cut',
  earliestMs: at(7),
  targetMs: at(8),
  latestMs: at(10),
  whatToDo: '',
  whatToBring: ['knife'],
  why: [],
  clashes: [],
  ...over,
});
const done = { atMs: at(8), factId: 'f1' };

describe('a day on which nobody can come', () => {
  it.each([
    { what: 'another day', taken: ['2027-05-09'], dayOfMay: 8 },
    { what: 'its own: the next', taken: ['2027-05-08'], dayOfMay: 9 },
    { what: 'its own and the next: the one before', taken: ['2027-05-08', '2027-05-09'], dayOfMay: 7 },
    {
      what: 'those three: the last of its window',
      taken: ['2027-05-07', '2027-05-08', '2027-05-09'],
      dayOfMay: 10,
    },
  ])('is $what', ({ taken, dayOfMay }) => {
    expect(avoidUnavailable(step(), taken, timeZone)).toEqual(step({ targetMs: at(dayOfMay) }));
  });

  const all = ['2027-05-07', '2027-05-08', '2027-05-09', '2027-05-10'];
  it('is said to be all of them, and the visit keeps its day', () => {
    const { targetMs, clashes } = avoidUnavailable(step({ clashes: ['before'] }), all, timeZone);
    expect(targetMs).toBe(at(8));
    expect(clashes).toEqual(['before', 'nobody can come on any day of its window: find somebody who can']);
  });

  it('is not left for an hour outside the window', () => {
    const narrow = step({ earliestMs: at(7, 11), latestMs: at(9, 9) });
    expect(avoidUnavailable(narrow, ['2027-05-08'], timeZone).clashes).toHaveLength(1);
  });

  it('is looked for as far back as the window goes', () => {
    const early = step({ earliestMs: at(4), latestMs: at(8) });
    expect(avoidUnavailable(early, ['2027-05-07', '2027-05-08', '2027-05-06'], timeZone).targetMs).toBe(
      at(5),
    );
  });

  it('is not one that is over', () => {
    const taken = ['2027-05-08', '2027-05-09', '2027-05-10'];
    const { targetMs, clashes } = avoidUnavailable(step(), taken, timeZone, at(8, 9));
    expect(targetMs).toBe(at(8));
    expect(clashes).toEqual(['nobody can come on any day of its window: find somebody who can']);
    expect(avoidUnavailable(step(), taken, timeZone, at(7, 20)).targetMs).toBe(at(7));
  });

  it('does not move what is done', () => {
    expect(avoidUnavailable(step({ done }), all, timeZone)).toEqual(step({ done }));
  });
});

describe('a trip', () => {
  const siteOf = (nucId: string) => ({ siteId: nucId === 'n3' ? 'valley' : 'meadow', timeZone });
  const listed = (steps: readonly PlanStep[]) =>
    trips(steps, siteOf).map(
      ({ date, siteId, steps: of, bring }) =>
        `${date} ${siteId}: ${of.map(({ nucId, kind }) => `${nucId} ${kind}`).join(', ')}; ${bring.join(', ')}`,
    );

  it('is one a day and site, in the order of the day, with everything named once', () => {
    const steps = [
      step({ nucId: 'n3', targetMs: at(9) }),
      step({ nucId: 'n2', targetMs: at(8), whatToBring: ['knife', 'brush'] }),
      step({ nucId: 'n1', targetMs: at(8) }),
      step({ nucId: 'n4', targetMs: at(8, 9), kind: 'hang-cage', whatToBring: ['tape'] }),
      step({ nucId: 'n3', targetMs: at(8) }),
    ];
    expect(listed(steps)).toEqual([
      '2027-05-08 meadow: n4 hang-cage, n1 cut-cells, n2 cut-cells; knife, brush, tape',
      '2027-05-08 valley: n3 cut-cells; knife',
      '2027-05-09 valley: n3 cut-cells; knife',
    ]);
    expect(listed(steps.toReversed())).toEqual([
      '2027-05-08 meadow: n4 hang-cage, n1 cut-cells, n2 cut-cells; tape, knife, brush',
      '2027-05-08 valley: n3 cut-cells; knife',
      '2027-05-09 valley: n3 cut-cells; knife',
    ]);
  });

  it('brings what a blocked step needs, for what blocks it may be settled there; not where the inspector does that', () => {
    const blockedBy = (first: PlanStep['kind']) =>
      step({
        kind: 'hang-cage',
        whatToBring: ['tape'],
        blocked: { answer: 'stop', by: 'it', first: [first] },
      });
    expect(listed([blockedBy('take-queen-out')])).toEqual(['2027-05-08 meadow: n1 hang-cage; tape']);
    expect(listed([blockedBy('call-inspector')])).toEqual(['2027-05-08 meadow: n1 hang-cage; ']);
  });

  type Blocked = NonNullable<PlanStep['blocked']>;
  it.each<readonly [string, Partial<Blocked>]>([
    ['its day is later', { untilMs: at(11, 0) }],
    ['what settles it may be done on a later day', { first: ['one-more-look'], untilMs: at(9, 0) }],
    ['nothing in the log settles it', {}],
    ['a test frame goes in for two days', { first: ['look-through', 'test-frame-in'] }],
    ['the nuc is united', { first: ['unite'] }],
    ['the queen is to come still', { first: ['queen-arrives'] }],
  ])('brings nothing for a blocked step where %s', (_, over) => {
    const blocked: Blocked = { answer: 'wait', by: 'it', first: [], ...over };
    const barred = step({ kind: 'hang-cage', whatToBring: ['tape'], targetMs: at(8), blocked });
    const other = step({ nucId: 'n2', targetMs: at(8), whatToBring: ['knife'] });
    expect(listed([barred, other])).toEqual(['2027-05-08 meadow: n1 hang-cage, n2 cut-cells; knife']);
  });

  it('brings what a blocked step needs where its time has come by then', () => {
    const blocked: Blocked = { answer: 'wait', by: 'it', first: ['look-through'], untilMs: at(8, 0) };
    const barred = step({ kind: 'hang-cage', whatToBring: ['tape'], targetMs: at(8), blocked });
    expect(listed([barred])).toEqual(['2027-05-08 meadow: n1 hang-cage; tape']);
  });

  it.each([
    { what: 'what is done', over: { done } },
    { what: 'what is only offered', over: { offered: true } },
    { what: 'a queen that comes by post', over: { kind: 'queen-arrives' as const } },
  ])('is not made for $what', ({ over }) => {
    expect(listed([step(over)])).toEqual([]);
  });
});
