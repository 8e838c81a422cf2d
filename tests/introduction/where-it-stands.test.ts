/** Where an introduction stands: its day 0, its last visit, how she is let out, and which looks count. */
import { describe, expect, it } from 'vitest';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import { foragersStay, movedWithoutThem } from '../../server/introduction/log/move-distance.ts';
import { course, eggs, out } from './support/after-release.ts';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, logOf, stateAt } from './support/field-log.ts';
import { notSeen, through } from './support/last-eggs.ts';
import { places } from './support/places.ts';

const opened = at(-3);
const own: Setup = { startingPoint: 'own-laying-queen', openedAtMs: opened };
const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: opened };
const hopeless: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: opened };
const note = (day: number): Entries[number] => [at(day), { kind: 'note' }];

describe('day 0', () => {
  const planned = { plannedSplitMs: at(2) };
  it.each<{ name: string; log: Entries; over: Setup; is: number | null }>([
    { name: 'a planned split that is to come', log: [], over: { ...planned, openedAtMs: opened }, is: null },
    { name: 'the split', log: [split], over: { openedAtMs: opened }, is: at(0) },
    { name: 'a queen of one’s own, and a split is planned', log: [], over: { ...own, ...planned }, is: null },
    { name: 'a queen of one’s own, and none is planned', log: [], over: own, is: opened },
    {
      name: 'a queen of one’s own, and the nuc was looked through without a split',
      log: [[at(0), facts.inspection()]],
      over: { ...own, ...planned },
      is: at(0),
    },
    {
      name: 'found with cells, whatever was planned',
      log: [],
      over: { ...withCells, ...planned },
      is: opened,
    },
    {
      name: 'requeened in place: its queen is in it',
      log: [],
      over: { startingPoint: 'requeened-in-place' },
      is: null,
    },
  ])('$name', ({ log, over, is }) => {
    const state = stateAt(log, at(1), over);
    expect(state.day0Ms).toBe(is);
    expect(state.dayNumber).toBe(is === null ? null : is === opened ? 4 : 1);
  });
});

describe('the last visit', () => {
  it.each<{ name: string; log: Entries; is: number | null }>([
    { name: 'none', log: [], is: null },
    { name: 'a note is none', log: [split, note(2)], is: at(0) },
    { name: 'a queen that comes by post is none', log: [split, [at(3), facts.arrived()]], is: at(0) },
    { name: 'a look', log: [split, [at(4), facts.inspection()], note(5)], is: at(4) },
  ])('$name', ({ log, is }) => {
    expect(stateAt(log, at(9)).lastVisitAtMs).toBe(is);
  });
});

describe('how she is let out', () => {
  const mesh: Setup = { method: 'push-in-cage' };
  const hungAndOpened: Entries = [split, [at(7), facts.hung()], [at(8), facts.opened()]];
  it.each<{ name: string; log: Entries; over: Setup; is: string }>([
    { name: 'as it is set up', log: [split, [at(7), facts.hung()]], over: mesh, is: 'push-in-cage' },
    { name: 'by the candy that was opened', log: hungAndOpened, over: mesh, is: 'candy-cage' },
    {
      name: 'hung anew since: as it is set up',
      log: [...hungAndOpened, [at(9), { kind: 'balled', rescued: true }], [at(9, 11), facts.hung()]],
      over: mesh,
      is: 'push-in-cage',
    },
  ])('$name: $is', ({ log, over, is }) => {
    expect(stateAt(log, at(10), over).setup.method).toBe(is);
  });
});

describe('a colony that was found hopeless', () => {
  const none: Entries = [[at(0), facts.inspection({ youngestBrood: 'sealed-only' })]];
  it('is so until it is split: that one has its own brood', () => {
    expect(stateAt(none, at(1), hopeless).hopeless).toBe(true);
    expect(stateAt([...none, [at(1), facts.split()]], at(2), hopeless).hopeless).toBe(false);
  });

  it('may have laying workers from the first entry on', () => {
    const { layingWorkersWatchFromMs } = stateAt([[at(0), facts.inspection()]], at(1), hopeless).windows;
    expect(layingWorkersWatchFromMs).toBe(at(0));
    expect(stateAt([], at(1), hopeless).windows.layingWorkersWatchFromMs).toBe(opened);
  });
});

describe('the stage', () => {
  it.each<{ name: string; log: Entries; now: number; is: string }>([
    { name: 'the day after the split', log: [split], now: at(1), is: 'foragers-leaving' },
    {
      name: 'and cells were cut already',
      log: [split, [at(1), facts.cut({ open: 1 })]],
      now: at(1, 12),
      is: 'waiting-to-cut',
    },
    { name: 'her eggs were seen', log: [...out, eggs(17)], now: at(18), is: 'accepted' },
    {
      name: 'drone brood beside her sealed worker brood',
      log: [...out, eggs(17), eggs(27, { sealedWorkerBroodSeen: true, droneBroodInWorkerCells: true })],
      now: at(28),
      is: 'check-due',
    },
  ])('$name: $is', ({ log, now, is }) => {
    expect(stateAt(log, now).stage).toBe(is);
  });
});

describe('looks that count', () => {
  places('second-look', [
    {
      name: 'frames were left out on day 7, though every frame was gone through on day 4: not before day 9, and at once then',
      log: [
        split,
        [at(4), facts.cut({ open: 6 })],
        [at(7), facts.cut({ sealed: 2 }, { everyFrameChecked: false })],
      ],
      now: at(9, 9),
      window: '9 00:00 | 9 10:00',
    },
    {
      name: 'a look while a larva may still be young enough is no second one',
      // Larvae near sealing on day 6 are 4½ days old at least: the last egg by day 1½, no larva young enough from day 9 on.
      log: [
        notSeen(),
        through(6, { youngestBrood: 'old-larvae' }),
        [at(7), facts.cut({ sealed: 3 })],
        [at(9, 9), facts.cut()],
      ],
      now: at(9, 12),
      window: '9 00:00 | 10 10:00',
    },
    { name: 'the second one', log: course, now: at(11), window: '9 00:00 | 10 10:00', done: true },
  ]);
});

describe('a move', () => {
  const moved = (day: number, metres = 10): Entries[number] => [at(day), { kind: 'moved', metres }];
  const of = (log: Entries) => effectiveFacts('intro-one', logOf(log), at(30));

  it('after the old bees have flown home takes none of them along', () => {
    expect(movedWithoutThem(of([split, moved(6)]))).toBe(true);
    expect(movedWithoutThem(of([split, moved(3)]))).toBe(false);
    expect(movedWithoutThem(of([split]))).toBe(false);
    expect(movedWithoutThem(of([moved(6)]))).toBe(false);
  });

  it('of three kilometres keeps them (common practice: beyond 3 to 5 km they do not find home)', () => {
    expect(foragersStay(of([split, moved(0, 3000)]))).toBe(true);
    expect(foragersStay(of([split, moved(0, 2999)]))).toBe(false);
    expect(foragersStay(of([split]))).toBe(false);
  });
});
