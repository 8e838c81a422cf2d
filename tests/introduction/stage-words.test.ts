/** Where a nuc stands on a given day, as the keeper reads it: the days are those of the usual course (common practice). */
import { expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { stageWords } from '../../server/introduction/stage-words.ts';
import { at, cells, cleanEntries, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];

const split: Entries = [[at(0), facts.split()]];
const cut: Entries = [...split, [at(7), facts.cut({ sealed: 8 })]];
const twice: Entries = [...cut, [at(10), facts.cut()]];
const out: Entries = [...cleanEntries, [at(10, 11), facts.opened()]];
const mesh: Partial<IntroductionSetup> = { method: 'push-in-cage' };
const look = (day: number, over: Parameters<typeof facts.looked>[0] = {}): Entries[number] => [
  at(day),
  facts.looked({ eggsSeen: false, ...over }),
];

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  readonly over?: Partial<IntroductionSetup>;
  readonly reads: string;
}

it.each<Row>([
  { name: 'before the split', log: [], now: at(0), reads: 'planned' },
  {
    name: 'the old queen is still in it',
    log: [],
    now: at(0),
    over: { startingPoint: 'requeened-in-place' },
    reads: 'old queen in it',
  },
  { name: 'on the day of the split', log: split, now: at(0, 12), reads: 'foragers leaving' },
  { name: 'on day 2', log: split, now: at(2, 22), reads: 'foragers leaving' },
  { name: 'on day 3 the old bees are home', log: split, now: at(3, 0), reads: 'waiting to cut cells' },
  {
    name: 'a queen of one’s own has no second look: her cells are cut',
    log: cut,
    now: at(7, 12),
    over: { startingPoint: 'own-laying-queen' },
    reads: 'cells cut',
  },
  {
    name: 'moved beyond their range none flies home',
    log: [...split, [at(0, 12), { kind: 'moved', metres: 8000 }]],
    now: at(1),
    reads: 'waiting to cut cells',
  },
  {
    name: 'moved along the row of hives they do',
    log: [...split, [at(0, 12), { kind: 'moved', metres: 5 }]],
    now: at(1),
    reads: 'foragers leaving',
  },
  {
    name: 'of the last move the metres count',
    log: [...split, [at(0, 12), { kind: 'moved', metres: 8000 }], [at(0, 18), { kind: 'moved', metres: 5 }]],
    now: at(1),
    reads: 'foragers leaving',
  },
  { name: 'cut once', log: cut, now: at(8), reads: 'waiting for the second look' },
  { name: 'looked through twice, no queen', log: twice, now: at(11), reads: 'ready, no queen yet' },
  {
    name: 'looked through twice, she came',
    log: [...twice, [at(10, 12), facts.arrived()]],
    now: at(11),
    reads: 'queen at hand',
  },
  {
    name: 'looked through twice, she came dead: another may come',
    log: [...twice, [at(10, 12), facts.arrived({ condition: 'dead' })]],
    now: at(11),
    reads: 'ready, no queen yet',
  },
  {
    name: 'looked through twice, and a virgin is seen',
    log: [...cut, [at(10), facts.cut({}, { virginSeen: true })]],
    now: at(11),
    reads: 'a virgin is in it',
  },
  {
    name: 'looked through twice, and a virgin that was seen is taken away',
    log: [
      ...cut,
      [at(10), facts.cut({}, { virginSeen: true })],
      [at(10, 11), { kind: 'queen-removed', which: 'virgin' }],
    ],
    now: at(11),
    reads: 'ready, no queen yet',
  },
  {
    name: 'looked through twice, and workers lay',
    log: [...twice, [at(24), facts.inspection({ youngestBrood: 'none', droneBroodInWorkerCells: true })]],
    now: at(25),
    reads: 'laying workers',
  },
  { name: 'she hangs', log: cleanEntries, now: at(10, 11), reads: 'queen caged' },
  {
    name: 'she hangs under the mesh',
    log: cleanEntries,
    now: at(10, 11),
    over: mesh,
    reads: 'queen under the mesh',
  },
  {
    name: 'she died in the cage',
    log: [...cleanEntries, [at(11), { kind: 'queen-dead' }]],
    now: at(12),
    reads: 'failed',
  },
  { name: 'the candy is open', log: out, now: at(10, 12), reads: 'candy open' },
  { name: 'three days later she is out', log: out, now: at(13, 11), reads: 'hands off' },
  { name: 'after two days bees may still eat', log: out, now: at(12, 12), reads: 'candy open' },
  {
    name: 'her cage was seen empty within the hour of the candy: shut as well',
    log: [...out, [at(10, 12), facts.looked({ queenSeen: false, eggsSeen: false })]],
    now: at(10, 23),
    reads: 'hands off',
  },
  { name: 'hands off until the end of day 16', log: out, now: at(16, 23), reads: 'hands off' },
  { name: 'a week after', log: out, now: at(17, 0), reads: 'check due' },
  { name: 'her eggs are seen', log: [...out, look(17, { eggsSeen: true })], now: at(18), reads: 'accepted' },
  { name: 'she is seen, no egg yet', log: [...out, look(17)], now: at(18), reads: 'accepted' },
  {
    name: 'she is seen on day 11, too soon to tell',
    log: [...out, look(11)],
    now: at(18),
    reads: 'check due',
  },
  { name: 'she is seen, no egg two weeks after', log: [...out, look(24)], now: at(25), reads: 'no eggs' },
  {
    name: 'nobody finds her',
    log: [...out, look(17, { queenSeen: false })],
    now: at(18),
    reads: 'not found',
  },
  {
    name: 'she sits in the cage still',
    log: [...out, look(17, { queenSeen: true, cageEmpty: false })],
    now: at(18),
    reads: 'still caged',
  },
  {
    name: 'a living cell is seen with her',
    log: [...out, look(17, { cells: cells({ sealed: 1 }) })],
    now: at(18),
    reads: 'a cell stands',
  },
  {
    name: 'an open cell that was seen with her has opened after two weeks at the latest',
    log: [...out, look(17, { cells: cells({ open: 1 }) })],
    now: at(31, 11),
    reads: 'a virgin may be out',
  },
  {
    name: 'she was seen days after the virgin of a sealed one must have been out',
    log: [...out, look(17, { cells: cells({ sealed: 1 }) }), look(31, { eggsSeen: true })],
    now: at(31, 11),
    reads: 'accepted',
  },
  {
    name: 'a cell was seen before she was let out, nothing since',
    log: [
      ...cleanEntries,
      [at(10, 10.5), facts.inspection({ cells: cells({ sealed: 1 }) })],
      [at(10, 11), facts.opened()],
    ],
    now: at(18),
    reads: 'check due',
  },
  {
    name: 'only drone brood with her',
    log: [...out, look(27, { eggsSeen: true, droneBroodInWorkerCells: true })],
    now: at(28),
    reads: 'drone brood',
  },
  {
    name: 'drone brood with her, she is dead, and the next queen is at hand',
    log: [
      ...out,
      look(27, { eggsSeen: true, droneBroodInWorkerCells: true }),
      [at(27, 11), { kind: 'queen-dead' }],
      [at(27, 12), facts.cut()],
      [at(34), facts.cut()],
      [at(37), facts.cut()],
      [at(38), facts.arrived({ queenId: 'queen-two' })],
    ],
    now: at(38, 12),
    reads: 'workers may lay',
  },
  {
    name: 'eggs on the walls with her',
    log: [...out, look(17, { eggsSeen: true, eggsStand: 'walls' })],
    now: at(18),
    reads: 'laying workers',
  },
  {
    name: 'drone brood from before she was let out, nothing seen since',
    log: [
      ...cleanEntries,
      [at(10, 10.5), facts.inspection({ droneBroodInWorkerCells: true })],
      [at(10, 11), facts.opened()],
    ],
    now: at(18),
    reads: 'check due',
  },
  {
    name: 'several eggs on the bottom with her',
    log: [...out, look(17, { eggsSeen: true, severalEggsACell: true, eggsStand: 'bottom' })],
    now: at(18),
    reads: 'eggs in doubt',
  },
  {
    name: 'a virgin is seen with her',
    log: [...out, [at(17), facts.inspection({ virginSeen: true })]],
    now: at(18),
    reads: 'a virgin is in it',
  },
  {
    name: 'she got out by accident',
    log: [...cleanEntries, [at(10, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }]],
    now: at(10, 12),
    reads: 'out by accident',
  },
  {
    name: 'out of the hand, and found dead',
    log: [
      ...split,
      [at(1), facts.arrived()],
      [at(1, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }],
      [at(2), { kind: 'queen-dead' }],
    ],
    now: at(4),
    reads: 'waiting to cut cells',
  },
  {
    name: 'still caged, and taken into the hand again',
    log: [
      ...out,
      look(17, { cageEmpty: false }),
      [at(17, 11), { kind: 'cage-taken-out', queen: 'in-the-cage' }],
    ],
    now: at(18),
    reads: 'queen at hand',
  },
  {
    name: 'found hopelessly queenless',
    log: [],
    now: at(0),
    over: { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) },
    reads: 'to be looked through',
  },
  {
    name: 'an outcome is logged',
    log: [...out, look(17), [at(18), { kind: 'outcome', outcome: 'accepted' }]],
    now: at(19),
    reads: 'closed',
  },
])('$name: $reads', ({ log, now, over, reads }) => {
  expect(stageWords(stateAt(log, now, over)).name).toBe(reads);
});

it('a queen of one’s own is let out on the day of the only cut, and the line says so', () => {
  const line = (over: Partial<IntroductionSetup>) => stageWords(stateAt(split, at(4), over)).line;
  expect(line({ startingPoint: 'own-laying-queen' })).toContain('on the day on which she is let out');
  expect(line({})).toContain('no larva is young enough');
});

it('once her days outside are over, no line forbids the look that may be made', () => {
  const lineOn = (log: Entries, now: number) => stageWords(stateAt(log, now)).line;
  expect(lineOn(out, at(16, 10))).toContain('can get the queen killed');
  expect(lineOn(out, at(16, 12))).toContain('a week is better');
  // Let out before the cut: cells are looked for on day 7, within the week.
  const early: Entries = [...split, [at(1), facts.hung({ candyEnd: 'open' })]];
  expect(lineOn(early, at(7, 9))).toContain('can get the queen killed');
  expect(lineOn(early, at(7, 12))).toContain('a week is better');
  const slipped: Entries = [...cleanEntries, [at(10, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }]];
  expect(lineOn(slipped, at(13, 10))).toContain('the nuc stays shut');
  expect(lineOn(slipped, at(13, 12))).toContain('a week is better');
});

it('the scale ends the days of the foragers sooner, and changes no other stage', () => {
  const seen = (log: Entries, now: number) => {
    const state = stateAt(log, now);
    return [stageWords(state).name, stageWords(state, true).name];
  };
  expect(seen(split, at(1))).toEqual(['foragers leaving', 'waiting to cut cells']);
  expect(seen(cut, at(8))).toEqual(['waiting for the second look', 'waiting for the second look']);
  expect(seen(cleanEntries, at(11))).toEqual(['queen caged', 'queen caged']);
});
