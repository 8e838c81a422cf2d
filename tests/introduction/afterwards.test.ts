/** From acceptance to grafting, from a failure to the next attempt, and what the nuc's bees do meanwhile. */
import { describe, expect, it } from 'vitest';
import { afterAcceptance, type BroodFinding } from '../../server/introduction/after-acceptance.ts';
import { dayNumber } from '../../server/introduction/calendar.ts';
import { carryOver, nextStartingPoint } from '../../server/introduction/carry-over.ts';
import { mayOpenCandy } from './support/gates.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { canWait } from '../../server/introduction/acts/days/late-queen.ts';
import { nucPopulation } from '../../server/introduction/population.ts';
import { at, cleanEntries, facts, stateAt, zone } from './support/field-log.ts';

type Entries = Parameters<typeof stateAt>[0];
const dayOf = (ms: number | null): number | null => (ms === null ? null : dayNumber(at(0), ms, zone));
const opened: Entries = [...cleanEntries, [at(10, 11), facts.opened()]];

describe('after acceptance', () => {
  const laying: Entries = [...opened, [at(17), facts.looked()]];

  it('counts from her first eggs: grafting, sealed brood, first young', () => {
    const { milestones, finding } = afterAcceptance(stateAt(laying, at(17, 11)));
    expect(milestones.map(({ id, atMs }) => [id, dayOf(atMs)])).toEqual([
      ['first-eggs', 17],
      // Eggs seen on day 17 may be three days old: laid on day 14, larva of 12-24 h on day 18.
      ['first-graft', 18],
      ['sealed-brood', 27],
      ['proven-graft', 27],
      ['first-young', 35],
    ]);
    expect(finding).toBe('not-yet');
  });

  it('does not let her have laid before she was out', () => {
    const soon: Entries = [...opened, [at(12), facts.looked()]];
    const graft = afterAcceptance(stateAt(soon, at(13))).milestones.find(({ id }) => id === 'first-graft')!;
    expect(dayOf(graft.atMs)).toBe(14);
  });

  it('tells worker brood from a drone layer, and a queen that does not lay', () => {
    const sealed: Entries = [...laying, [at(27), facts.looked({ sealedWorkerBroodSeen: true })]];
    expect(afterAcceptance(stateAt(sealed, at(28))).finding).toBe('worker-brood');
    const drones: Entries = [...laying, [at(27), facts.looked({ droneBroodInWorkerCells: true })]];
    expect(afterAcceptance(stateAt(drones, at(28))).finding).toBe('drone-layer');
    expect(afterAcceptance(stateAt(opened, at(20))).finding).toBe('no-eggs-yet');
    expect(afterAcceptance(stateAt(opened, at(24, 12))).finding).toBe('failing');
    expect(afterAcceptance(stateAt(cleanEntries, at(12))).milestones).toEqual([]);
  });

  it('adds the dates of each graft', () => {
    const grafted: Entries = [...laying, [at(30), { kind: 'grafted', larvae: 20 }]];
    const { milestones } = afterAcceptance(stateAt(grafted, at(30, 11)));
    const of = (id: string) => dayOf(milestones.find((m) => m.id.startsWith(id))!.atMs);
    // Practice timetable: sealed 4-5 days, emergence 11-12 days after the graft; moved by day 10.
    expect([of('graft-sealed'), of('graft-move-by'), of('graft-emerge')]).toEqual([35, 40, 42]);
  });
});

describe('what her brood shows', () => {
  const missed = facts.looked({ queenSeen: false, eggsSeen: false });
  const several = facts.looked({ severalEggsACell: true });
  const drones = facts.inspection({ droneBroodInWorkerCells: true, youngestBrood: 'sealed-only' });
  it.each<{ name: string; log: Entries; now: number; is: BroodFinding; says?: string }>([
    { name: 'in her cage: nothing yet', log: cleanEntries, now: at(12), is: 'no-eggs-yet' },
    {
      name: 'workers’ drone brood while she hangs is not hers',
      log: [...cleanEntries, [at(24), drones]],
      now: at(25),
      is: 'no-eggs-yet',
    },
    {
      name: 'nor is that from before she was let out',
      log: [...cleanEntries, [at(24), drones], [at(26), facts.opened()]],
      now: at(30),
      is: 'no-eggs-yet',
    },
    {
      name: 'not found at the first look',
      log: [...opened, [at(17), missed]],
      now: at(18),
      is: 'no-eggs-yet',
    },
    {
      name: 'not found after her eggs were seen',
      log: [...opened, [at(17), facts.looked()], [at(21), missed]],
      now: at(22),
      is: 'failing',
      says: 'neither she nor eggs',
    },
    {
      name: 'several eggs in a cell: where they stand tells',
      log: [...opened, [at(17), several]],
      now: at(18),
      is: 'not-yet',
      says: 'Where do the eggs stand?',
    },
    {
      name: 'several eggs in a cell, on the bottom',
      log: [...opened, [at(17), { ...several, eggsStand: 'bottom' } as typeof several]],
      now: at(18),
      is: 'not-yet',
      says: 'on the bottom, as hers do',
    },
    { name: 'no eggs, an hour before two weeks', log: opened, now: at(24), is: 'no-eggs-yet' },
    { name: 'no eggs for two weeks', log: opened, now: at(24, 11), is: 'failing' },
  ])('$name: $is', ({ log, now, is, says }) => {
    const told = afterAcceptance(stateAt(log, now));
    expect(told.finding).toBe(is);
    if (says) expect(told.findingText).toContain(says);
  });

  it('has no dates of a queen that is dead or gone: nobody grafts from her', () => {
    const laid: Entries = [...opened, [at(17), facts.looked()]];
    const flown: Entries = [...laid, [at(20), { kind: 'queen-escaped', to: 'outside' }]];
    for (const log of [[...laid, [at(20), { kind: 'queen-dead' }] as const], flown])
      expect(afterAcceptance(stateAt(log, at(21))).milestones).toEqual([]);
  });

  it('has no dates as long as nobody saw her eggs, and all of them in the order of their days', () => {
    expect(afterAcceptance(stateAt(opened, at(14))).milestones).toEqual([]);
    const grafted: Entries = [...opened, [at(17), facts.looked()], [at(20), { kind: 'grafted', larvae: 5 }]];
    const days = afterAcceptance(stateAt(grafted, at(21))).milestones.map(({ atMs }) => atMs);
    expect(days).toEqual(days.toSorted((a, b) => a - b));
    expect(days.map(dayOf)).toEqual([17, 18, 20, 25, 27, 27, 30, 32, 35]);
  });
});

describe('after a failure', () => {
  it('hands on what the log knows about the old queen where the new one never got out', () => {
    const dead: Entries = [...cleanEntries, [at(10, 11), { kind: 'queen-dead' }]];
    const carried = carryOver(stateAt(dead, at(11)));
    expect([dayOf(carried.lastFertileEgg.latestMs), dayOf(carried.queenlessSince.latestMs)]).toEqual([0, 0]);
    expect(nextStartingPoint(stateAt(dead, at(11)))).toBe('hopelessly-queenless');
  });

  it('reckons with eggs until she was found missing where she did get out', () => {
    const lost: Entries = [
      ...opened,
      [at(17), facts.looked()],
      [at(24), facts.looked({ queenSeen: false, eggsSeen: false })],
      [at(24, 11), { kind: 'outcome', outcome: 'queen-lost' }],
    ];
    const state = stateAt(lost, at(25));
    const carried = carryOver(state);
    expect(dayOf(carried.lastFertileEgg.earliestMs)).toBe(13);
    expect(dayOf(carried.lastFertileEgg.latestMs)).toBe(24);
    expect(nextStartingPoint(state)).toBe('queenless-with-cells');
    const unseen = carryOver(stateAt([...opened, [at(12), { kind: 'queen-dead' }]], at(13)));
    expect([dayOf(unseen.lastFertileEgg.latestMs), dayOf(unseen.queenlessSince.earliestMs)]).toEqual([12, 0]);
  });

  it('lets the next introduction start from what was carried over', () => {
    const dead: Entries = [...cleanEntries, [at(10, 11), { kind: 'queen-dead' }]];
    const next: Entries = [
      [at(12), facts.cut({}, { youngestBrood: 'sealed-only' })],
      [at(12, 10.5), facts.hung({ queenId: 'queen-two' })],
    ];
    const state = stateAt(next, at(14), {
      startingPoint: 'hopelessly-queenless',
      carried: carryOver(stateAt(dead, at(11))),
    });
    expect(dayOf(state.evidence.lastFertileEgg.latestMs)).toBe(0);
    expect(state.evidence.queenless).toBe('shown');
    // Whether a virgin is loose is not carried over: a test frame settles it.
    expect(mayOpenCandy(state, noEvidence, at(14)).headline).toBe('A virgin may be loose');
  });
});

describe('a nuc that waits', () => {
  it('can wait until laying workers are to be feared, or until too few bees are left', () => {
    const state = stateAt(cleanEntries.slice(0, 2), at(12));
    expect(canWait(state, null)).toMatchObject({ because: 'laying-workers', untilMs: at(21) });
    const day = (n: number, bees: number) => ({ day: n, bees, low: bees, high: bees });
    const projection = { days: [day(12, 5400), day(15, 4000), day(18, 2700)], trough: day(18, 2700) };
    expect(canWait(state, projection)).toMatchObject({ because: 'too-few-bees', untilMs: at(18) });
    expect(canWait(stateAt([], at(1)), null)).toBeNull();
  });
});

describe('the nuc’s bees', () => {
  it('are told for the day of release, by what the scale saw leaving where there is one', () => {
    const told = nucPopulation(stateAt(opened, at(11)), { bees: 900, low: 700, high: 1100 })!;
    expect(told.releaseDay).toBe(10);
    expect(told.framesAtRelease).toBeGreaterThan(3);
    expect(told.text).toContain('as the scale measured');
    const planned = nucPopulation(stateAt(cleanEntries.slice(0, 1), at(1)), null)!;
    expect([planned.releaseDay, planned.text.includes('no scale tells')]).toEqual([10, true]);
    expect([planned.text, told.text]).toEqual([
      expect.stringContaining('frames of bees on day 10, when the candy end is to be opened;'),
      expect.stringContaining('when the candy end was opened;'),
    ]);
  });

  it('are told for today where she is late, and for the day after she hangs where that is known', () => {
    const split = cleanEntries.slice(0, 1);
    const on = (day: number, entries: Entries, expected?: number) =>
      nucPopulation(
        stateAt(entries, at(day), expected === undefined ? {} : { expectedQueenMs: at(expected) }),
        null,
      )!;
    expect(on(14, split, 8)).toMatchObject({ releaseDay: 14, ifToday: true });
    expect(on(14, split, 8).text).toContain('frames of bees on day 14, if she were let out today;');
    expect(on(14, split, 20)).toMatchObject({ releaseDay: 21, ifToday: false });
    expect(on(14, [...split, [at(14), facts.hung()]])).toMatchObject({ releaseDay: 15, ifToday: false });
    expect(on(9, split)).toMatchObject({ releaseDay: 10, ifToday: false });
  });

  describe('with what came since the split', () => {
    const told = (...more: Entries) => nucPopulation(stateAt([...opened, ...more], at(40)), null)!;
    const beesOn = (day: number, ...more: Entries): number => told(...more).projection.days[day]!.bees;

    it('count a frame of sealed brood from the day on which it came, open brood later, a test frame never', () => {
      const sealed = [at(12), facts.broodAdded({ brood: 'sealed-only' })] as const;
      const open = [at(12), facts.broodAdded({ brood: 'old-larvae' })] as const;
      // A deep comb holds about 7,000 cells, brood in 0.6 of them: some 4,000 young, of which some die each day.
      expect(beesOn(24, sealed) - beesOn(24)).toBeGreaterThan(3000);
      expect(beesOn(12, sealed)).toBe(beesOn(12));
      expect(beesOn(23, open)).toBe(beesOn(23));
      expect(beesOn(33, open) - beesOn(33)).toBeGreaterThan(2500);
      expect(told(sealed).text).toContain('1 frame of brood put in counts as full: how much brood it held');
      const test = [at(12), facts.broodAdded({ asTestFrame: true })] as const;
      expect(told(test).projection).toEqual(told().projection);
      expect(told(test).text).toBe(told().text);
    });

    it('go on from the last count of the bees, those that were shaken in with them', () => {
      const counted = [at(13), facts.inspection({ framesOfBees: 5 })] as const;
      expect(beesOn(13, counted)).toBe(5 * 1900);
      expect(beesOn(12, counted)).toBe(beesOn(12));
      expect(told(counted).text).toContain('Bees counted again on day 13: 5 frames.');
    });

    it('say that brood which was taken out is not taken off', () => {
      const taken = [at(12), facts.broodTaken({ asTestFrame: false })] as const;
      expect(told(taken).projection).toEqual(told().projection);
      expect(told(taken).text).toContain('Brood that was taken out is not taken off: how much it was');
    });
  });

  it('are told in hundreds, with what the scale saw leaving counted in', () => {
    const split = stateAt(cleanEntries.slice(0, 1), at(1));
    const gone = (bees: number) => nucPopulation(split, { bees, low: bees, high: bees })!;
    const { trough } = gone(900).projection;
    expect(gone(900).text).toMatch(/: [\d,]+00 \([\d,]+00 to [\d,]+00\)\./);
    expect(gone(900).text).toContain(
      `fewest on day ${String(trough.day)}: ${(Math.round(trough.bees / 100) * 100).toLocaleString('en-GB')} (`,
    );
    expect(gone(200).framesAtRelease).toBeGreaterThan(gone(900).framesAtRelease);
  });

  it('are told for the day on which she was let out, where that is another', () => {
    const late: Entries = [...cleanEntries, [at(14, 11), facts.opened()]];
    expect(nucPopulation(stateAt(late, at(15)), null)!.releaseDay).toBe(14);
    const nextQueen: Entries = [...cleanEntries, [at(65, 11), facts.opened()]];
    expect(nucPopulation(stateAt(nextQueen, at(66)), null)!.text).not.toContain('About 0.0 frames');
  });

  it('have her young some days after she was let out, as long as nobody saw her eggs', () => {
    const seenOn = (day: number) =>
      nucPopulation(stateAt([...opened, [at(day), facts.looked()]], at(25)), null)!;
    const unseen = nucPopulation(stateAt(opened, at(25)), null)!;
    expect(unseen.projection).toEqual(seenOn(14).projection);
    expect(unseen.projection).not.toEqual(seenOn(13).projection);
  });

  it('count her young from her first eggs', () => {
    const laying = nucPopulation(stateAt([...opened, [at(24), facts.looked()]], at(25)), null)!;
    const usual = nucPopulation(stateAt(opened, at(25)), null)!;
    expect(laying.projection.trough.day).toBeGreaterThan(usual.projection.trough.day);
    expect(nucPopulation(stateAt([], at(0)), null)).toBeNull();
  });

  it('get no young of a queen that died before she laid, and those of two weeks of one that laid as long', () => {
    const died = (day: number): Entries => [
      ...opened,
      [at(17), facts.looked()],
      [at(day), { kind: 'queen-dead' }],
    ];
    const told = (log: Entries, day: number) => nucPopulation(stateAt(log, at(day)), null)!;
    const none = told([...cleanEntries, [at(9), { kind: 'queen-dead' }]], 12);
    const laid = told(died(30), 31);
    const lays = told([...opened, [at(17), facts.looked()]], 31);
    expect(none.text).toContain('No queen lays in it: ');
    expect(none.text).not.toContain('is to be opened');
    expect(none.projection.trough.day).toBe(60);
    expect(laid.text).toContain('No queen lays in it: ');
    expect(laid.projection.days[60]!.bees).toBeLessThan(lays.projection.days[60]!.bees);
    expect(laid.projection.days[45]!.bees).toBeGreaterThan(none.projection.days[45]!.bees * 1.2);
  });

  it('count the young of the queen before beside those of the next', () => {
    const next = (log: Entries): number => {
      const hung: Entries = [
        [at(38), facts.hung({ queenId: 'two' })],
        [at(40), facts.opened()],
      ];
      return nucPopulation(stateAt([...log, ...hung], at(41)), null)!.projection.days[50]!.bees;
    };
    const gone = { kind: 'queen-dead' } as const;
    const laid: Entries = [...opened, [at(17), facts.looked()], [at(30), gone]];
    expect(next(laid)).toBeGreaterThan(next([...cleanEntries, [at(9), gone]]) * 1.2);
  });
});
