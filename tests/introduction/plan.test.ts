import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../server/introduction/plan/batch.ts';
import { dayNumber, isoDate } from '../../server/introduction/calendar.ts';
import { trips } from '../../server/introduction/acts/days/plan-days.ts';
import type { PlanKind, PlanOptions, PlanStep } from '../../server/introduction/acts/plan-step.ts';
import { planIntroduction } from '../../server/introduction/plan/plan.ts';
import { at, cleanEntries, facts, stateAt, zone } from './support/field-log.ts';

type Entries = Parameters<typeof stateAt>[0];
const dayOf = (ms: number): number => dayNumber(at(0), ms, zone);
const days = (plan: readonly PlanStep[]): Partial<Record<PlanKind, number>> =>
  Object.fromEntries(plan.map((step) => [step.kind, dayOf(step.targetMs)]));
const planAt = (entries: Entries, nowMs: number, options?: PlanOptions, setup = {}) =>
  planIntroduction(stateAt(entries, nowMs, setup), options);
const split: Entries = [[at(0), facts.split()]];

describe('the plan', () => {
  it('is the same whatever instants were asked for before', () => {
    const log = cleanEntries.map(([ms, fact]): (typeof cleanEntries)[number] => [ms, fact]);
    const last = Math.max(...log.map(([ms]) => ms));
    const { facts: shared } = stateAt(log, last + 60 * 86_400_000);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 20 * 1440 }), { maxLength: 12 }), (minutes) => {
        for (const minute of minutes) {
          const state = stateAt(log, last + minute * 60_000);
          expect(planIntroduction({ ...state, facts: shared })).toEqual(
            planIntroduction({ ...state, facts: [...shared] }),
          );
        }
      }),
    );
  });

  it('counts back from the queen’s arrival: split a week before, cut and hung when she comes', () => {
    const plan = planAt([], at(-10), {}, { expectedQueenMs: at(7, 9) });
    expect(days(plan)).toMatchObject({
      split: 0,
      'cut-cells': 7,
      'hang-cage': 7,
      'second-look': 10,
      'open-candy': 10,
    });
    const step = plan.find(({ kind }) => kind === 'split')!;
    expect([dayOf(step.earliestMs), dayOf(step.latestMs)]).toEqual([-1, 1]);
  });

  it('has no dates without a split or an arrival', () => {
    expect(planAt([], at(0))).toEqual([]);
    expect(days(planAt([], at(-5), {}, { plannedSplitMs: at(0) }))).toMatchObject({
      split: 0,
      'cut-cells': 7,
    });
  });

  it('keeps the window of the cut that counts: day 7 to day 8½', () => {
    const cut = planAt(split, at(1)).find(({ kind }) => kind === 'cut-cells')!;
    expect(isoDate(cut.earliestMs, zone)).toBe('2027-05-08');
    expect((cut.latestMs - at(0)) / 86_400_000).toBe(8.5);
  });

  it('plans a missed cut for today, whatever the hour is, and what follows after it', () => {
    expect(days(planAt(split, at(9, 12)))).toMatchObject({
      'cut-cells': 9,
      'second-look': 12,
      'open-candy': 12,
    });
    expect(days(planAt(split, at(9, 8)))).toMatchObject({ 'cut-cells': 9, 'second-look': 12 });
  });

  it('keeps a missed cut overdue by its own window', () => {
    const cut = planAt(split, at(9, 12)).find(({ kind }) => kind === 'cut-cells')!;
    expect((cut.latestMs - at(0)) / 86_400_000).toBe(8.5);
  });

  it('moves a split that was not made, and all after it', () => {
    const plan = planAt([], at(2, 12), {}, { plannedSplitMs: at(0) });
    expect(days(plan)).toMatchObject({ split: 2, 'cut-cells': 9, 'open-candy': 12 });
  });

  it('waits for no queen whose delivery is here', () => {
    const kinds = (deliveryIsHere?: true): readonly string[] =>
      planAt(split, at(8), {}, { expectedQueenMs: at(5, 12), ...(deliveryIsHere && { deliveryIsHere }) }).map(
        ({ kind }) => kind,
      );
    expect(kinds()).toContain('queen-arrives');
    expect(kinds(true)).not.toContain('queen-arrives');
    expect(kinds(true)).toContain('hang-cage');
  });

  it('lets a laying queen of one’s own in on the day of the cut, and looks once', () => {
    const own = { startingPoint: 'own-laying-queen', expectedQueenMs: at(2, 9) } as const;
    const plan = planAt(split, at(1), {}, own);
    expect(days(plan)).toMatchObject({
      'cut-cells': 2,
      'hang-cage': 2,
      'open-candy': 2,
      // Out within three days of the opening, then three of hands off.
      'look-for-queen': 8,
    });
    expect(plan.map(({ kind }) => kind)).not.toContain('second-look');
    const cut: Entries = [...split, [at(2), facts.cut({ open: 3 })]];
    expect(planAt(cut, at(2, 12), {}, own).find(({ kind }) => kind === 'cut-cells')!.done?.atMs).toBe(at(2));
    expect(planAt(cut, at(3, 9), {}, own).find(({ kind }) => kind === 'cut-cells')!.done).toBeUndefined();
  });

  it('marks what is done with the fact that did it, and keeps ids', () => {
    const before = planAt(split, at(1));
    const after = planAt([...cleanEntries, [at(10, 11), facts.opened()]], at(11));
    expect(after.map(({ id }) => id).sort()).toEqual(before.map(({ id }) => id).sort());
    const done = after.filter((step) => step.done).map(({ kind, done }) => [kind, done!.factId]);
    expect(done).toEqual([
      ['split', 'intro-one-f000'],
      ['cut-cells', 'intro-one-f001'],
      ['hang-cage', 'intro-one-f002'],
      ['second-look', 'intro-one-f003'],
      ['open-candy', 'intro-one-f004'],
    ]);
  });

  it('opens a late queen’s candy a day after she is hung, and says when her cage has been too long', () => {
    const late = planAt(
      [...split, [at(7), facts.cut({ sealed: 5 })], [at(10), facts.cut()]],
      at(12),
      {},
      { expectedQueenMs: at(17, 9) },
    );
    expect(days(late)).toMatchObject({ 'hang-cage': 17, 'open-candy': 18, 'look-for-queen': 25 });
    const open = late.find(({ kind }) => kind === 'open-candy')!;
    expect(dayOf(open.latestMs)).toBe(27);
  });

  it('lifts a mesh after four days, and takes that as the release', () => {
    const mesh = { method: 'push-in-cage' } as const;
    const hung: Entries = [...split, [at(7), facts.cut({ sealed: 5 })], [at(8), facts.hung()]];
    expect(days(planAt(hung, at(9), {}, mesh))['open-candy']).toBe(12);
    const lifted: Entries = [...hung, [at(10), facts.cut()], [at(12), { kind: 'cage-taken-out' }]];
    const open = planAt(lifted, at(13), {}, mesh).find(({ kind }) => kind === 'open-candy')!;
    expect(open.done).toMatchObject({ factId: 'intro-one-f004' });
  });

  it('plans one more look while the counts ask for it, by the keeper’s limit', () => {
    expect(days(planAt(cleanEntries, at(10, 12)))['one-more-look']).toBeUndefined();
    expect(days(planAt(cleanEntries, at(10, 12), { chanceLimit: 0.01 }))['one-more-look']).toBe(11);
  });

  it('asks for her and her eggs again where neither was seen, else for sealed brood', () => {
    const noEggs = (queenSeen: boolean): Entries => [
      ...cleanEntries,
      [at(10, 11), facts.opened()],
      [at(17), facts.looked({ queenSeen, eggsSeen: false })],
    ];
    expect(days(planAt(noEggs(false), at(17, 11)))['look-again']).toBe(21);
    // Seen walking: no look before two weeks decides anything.
    const seen = days(planAt(noEggs(true), at(17, 11)));
    expect([seen['look-again'], seen['check-sealed-brood']]).toEqual([undefined, 27]);
    const sealed: Entries = [
      ...cleanEntries,
      [at(10, 11), facts.opened()],
      [at(17), facts.looked()],
      [at(27), facts.looked({ sealedWorkerBroodSeen: true })],
    ];
    const check = planAt(sealed, at(28)).find(({ kind }) => kind === 'check-sealed-brood')!;
    expect(check.done?.atMs).toBe(at(27));
  });

  it('leaves nothing to do after an outcome', () => {
    const plan = planAt([...cleanEntries, [at(11), { kind: 'outcome', outcome: 'united' }]], at(12));
    expect(plan.filter((step) => !step.done)).toEqual([]);
  });

  it('takes a test frame out two days after it was put in', () => {
    const swarm: Entries = [
      [at(0), facts.split({ cellsAlreadyThere: 'present-and-left' })],
      [at(8), facts.broodAdded({ asTestFrame: true })],
    ];
    const plan = planAt(swarm, at(8, 12));
    expect(days(plan)).toMatchObject({ 'test-frame-in': 8, 'test-frame-out': 10 });
    expect(plan.find(({ kind }) => kind === 'test-frame-in')!.done?.factId).toBe('intro-one-f001');
  });
});

describe('days on which nobody can come', () => {
  it('move a step within its window, later before earlier', () => {
    const busy = planAt(split, at(1), { unavailable: ['2027-05-18'] });
    expect(days(busy)['look-for-queen']).toBe(18);
    // The cut can't come later than the morning of day 8½ nor earlier than day 7.
    expect(days(planAt(split, at(1), { unavailable: ['2027-05-08'] }))['cut-cells']).toBe(8);
  });

  it('say so where no day of the window is left', () => {
    const none = planAt(split, at(1), { unavailable: ['2027-05-08', '2027-05-09'] });
    const cut = none.find(({ kind }) => kind === 'cut-cells')!;
    expect([dayOf(cut.targetMs), cut.clashes.length]).toEqual([7, 1]);
  });
});

describe('trips', () => {
  it('gather the steps of a site and day, with everything to bring named once', () => {
    const other = planIntroduction(stateAt(split, at(1), { nucId: 'nuc-two' }));
    const made = trips([...planAt(split, at(1)), ...other], (nucId) => ({
      siteId: nucId === 'nuc-one' ? 'meadow' : 'wood',
      timeZone: zone,
    }));
    const day7 = made.filter(({ date }) => date === '2027-05-08');
    expect(day7.map(({ siteId }) => siteId)).toEqual(['meadow', 'wood']);
    expect(day7[0]!.steps.map(({ kind }) => kind)).toEqual(['cut-cells', 'hang-cage']);
    expect(new Set(day7[0]!.bring).size).toBe(day7[0]!.bring.length);
    const both = trips([...planAt(split, at(1)), ...other], () => ({ siteId: 'meadow', timeZone: zone }));
    expect(both.find(({ date }) => date === '2027-05-08')!.steps).toHaveLength(4);
  });
});

describe('a batch', () => {
  const input = {
    id: 'batch',
    startingPoint: 'planned-split',
    method: 'candy-cage',
    timeZone: zone,
    nowMs: at(-20),
  } as const;

  it('is planned back from the delivery, or forward from the split', () => {
    const back = planBatch({ ...input, by: { arrivalMs: at(7, 12) } });
    expect([dayOf(back.splitMs), days(back.steps)['cut-cells']]).toEqual([0, 7]);
    const forward = planBatch({ ...input, by: { splitMs: at(0) } }, { visitHour: 9 });
    expect(days(forward.steps)).toMatchObject({ split: 0, 'open-candy': 10 });
  });

  it('has its queens come on the day for which they are ordered, where that is known', () => {
    const by = { splitMs: at(0), arrivalMs: at(9, 12) };
    expect(days(planBatch({ ...input, by }).steps)).toMatchObject({
      split: 0,
      'queen-arrives': 9,
      'hang-cage': 9,
    });
    expect(days(planBatch({ ...input, by: { splitMs: at(0) } }).steps)).not.toHaveProperty('queen-arrives');
  });

  it('keeps the day of a split that is made already', () => {
    const made = planBatch({ ...input, nowMs: at(3), by: { splitMs: at(0) } });
    expect(days(made.steps)).toMatchObject({ split: 0, 'cut-cells': 7 });
  });
});
