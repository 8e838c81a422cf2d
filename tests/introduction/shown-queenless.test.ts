/**
 * Whether the log shows that no queen walks free. Eggs hatch after three days and a little more (Winston 1987), so a look
 * on every frame, bees shaken off, that finds no egg and no young larva some days after the split shows that none lays.
 */
import { expect, it } from 'vitest';
import { oldQueenFeared, queenToFind } from '../../server/introduction/brood/shown-queenless.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { at, cells, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];

const unknown = { earliestMs: null, latestMs: null, restsOn: [] };
const before = (queenlessMs: number | null, queenMayBeOut: boolean): Partial<IntroductionSetup> => ({
  startingPoint: 'hopelessly-queenless',
  carried: {
    lastFertileEgg: unknown,
    queenlessSince: { ...unknown, latestMs: queenlessMs },
    queenMayBeOut,
  },
});
const found: Partial<IntroductionSetup> = { startingPoint: 'queenless-with-cells' };

const split = [at(0), facts.split()] as const;
const notSeen = [at(0), facts.split({ oldQueen: 'not-seen' })] as const;
const taken = (which: 'old-queen' | 'virgin' | 'young-queen'): FactPayload => ({
  kind: 'queen-removed',
  which,
});
const walks = facts.inspection({ layingQueenSeen: true });
const sealed = (over: Parameters<typeof facts.inspection>[0] = {}): FactPayload =>
  facts.inspection({ youngestBrood: 'sealed-only', ...over });
const eggs = [at(7), facts.inspection({ youngestBrood: 'eggs' })] as const;
const stillEggs = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.inspection({ youngestBrood: 'eggs' }),
];
const frame = (inDay: number, cellsOnIt: number, outDay = inDay + 2): Entries => [
  [at(inDay), facts.broodAdded({ asTestFrame: true })],
  [at(outDay), facts.broodTaken({ cellsOnIt })],
];
const standing = (over: Parameters<typeof cells>[0]): FactPayload =>
  facts.inspection({ youngestBrood: 'sealed-only', everyFrameChecked: false, cells: cells(over) });

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly over?: Partial<IntroductionSetup>;
  readonly is: 'shown' | 'not-shown' | 'contradicted';
  /** Words of the reason. */
  readonly why: string;
  /** She is to be found. Absent: no. */
  readonly find?: true;
}

it.each<Row>([
  { name: 'old queen seen in the parent', log: [split], is: 'shown', why: 'in the parent colony' },
  { name: 'not seen at the split', log: [notSeen], is: 'not-shown', why: 'she may be in it' },
  {
    name: 'nothing known',
    log: [[at(1), facts.inspection()]],
    over: found,
    is: 'not-shown',
    why: 'nothing in the log shows',
  },

  // A look for eggs.
  { name: 'no egg on day 5', log: [notSeen, [at(5), sealed()]], is: 'shown', why: 'no egg and no young' },
  {
    name: 'only old larvae on day 5, at a cut without a cell',
    log: [notSeen, [at(5), facts.cut({}, { youngestBrood: 'old-larvae' })]],
    is: 'shown',
    why: 'no egg and no young',
  },
  {
    name: 'sealed brood alone two days after the split: eggs of the split would still be eggs',
    log: [notSeen, [at(2), sealed()]],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'a frame left out',
    log: [notSeen, [at(5), sealed({ everyFrameChecked: false })]],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'bees not shaken off',
    log: [notSeen, [at(5), sealed({ beesShakenOff: false })]],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'nobody looked for brood',
    log: [notSeen, [at(5), facts.inspection()]],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'young larvae on day 3, of eggs of the split',
    log: [notSeen, [at(3, 14), sealed({ youngestBrood: 'young-larvae' })]],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'several eggs in a cell: somebody lays',
    log: [notSeen, [at(5), sealed({ severalEggsACell: true })]],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'several eggs were not asked for',
    log: [notSeen, [at(5), sealed({ severalEggsACell: undefined })]],
    is: 'shown',
    why: 'no egg and no young',
  },
  {
    name: 'no egg on day 5, and later only a look at the cells',
    log: [notSeen, [at(5), sealed()], [at(6), facts.inspection({ everyFrameChecked: false })]],
    is: 'shown',
    why: 'no egg and no young',
  },
  {
    name: 'no egg on day 5, and later a note and feed',
    log: [notSeen, [at(5), sealed()], [at(6), { kind: 'note' }], [at(6), { kind: 'fed', feed: 'syrup' }]],
    is: 'shown',
    why: 'no egg and no young',
  },
  {
    name: 'no egg on day 5, and none on the one frame that was looked at on day 6',
    log: [notSeen, [at(5), sealed()], [at(6), sealed({ everyFrameChecked: false })]],
    is: 'shown',
    why: 'no egg and no young',
  },
  {
    name: 'eggs on day 7',
    log: [notSeen, eggs],
    is: 'contradicted',
    why: 'laid since the split',
    find: true,
  },
  {
    name: 'eggs too young in a box whose queen was seen elsewhere: nobody knows who lays',
    log: [split, eggs],
    is: 'contradicted',
    why: 'too young',
  },

  // A laying queen that walks free.
  {
    name: 'she walks free',
    log: [split, [at(7), walks]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'and is taken away',
    log: [notSeen, [at(7), walks], [at(7, 11), taken('old-queen')]],
    is: 'shown',
    why: 'was taken away',
  },
  {
    name: 'and only a virgin is taken away',
    log: [notSeen, [at(7), walks], [at(7, 11), taken('virgin')]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'another was taken away before she was seen',
    log: [notSeen, [at(5), taken('old-queen')], [at(20), walks]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },

  {
    name: 'four days later no egg is left: she lays no more, and a test frame tells whether she is there',
    log: [split, [at(7), walks], [at(11), sealed()]],
    is: 'contradicted',
    why: 'walking free',
  },
  {
    name: 'three days later no egg was seen: hers hatch for half a day more',
    log: [split, [at(7), walks], [at(10), sealed()]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'four days later no egg was seen, and not on every frame',
    log: [split, [at(7), walks], [at(11), sealed({ everyFrameChecked: false })]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'four days later no egg but several in a cell',
    log: [split, [at(7), walks], [at(11), sealed({ severalEggsACell: true })]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'one look since saw eggs and not her',
    log: [split, [at(7), walks], stillEggs(11)],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'looks on two days since saw eggs and not her: a test frame tells',
    log: [split, [at(7), walks], stillEggs(8), stillEggs(12)],
    is: 'contradicted',
    why: 'walking free',
  },
  {
    name: 'two looks of one day are one',
    log: [split, [at(7), walks], stillEggs(8), stillEggs(8, 15)],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'the day on which she was seen is no search for her',
    log: [split, [at(7), walks], stillEggs(7, 15), stillEggs(8)],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'she was met again between the two looks',
    log: [split, [at(7), walks], stillEggs(8), [at(9), walks], stillEggs(12)],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'cells on a test frame that went in after she was seen',
    log: [split, [at(7), walks], ...frame(12, 3)],
    is: 'shown',
    why: 'on the test frame',
  },
  {
    name: 'cells on a test frame that was in before she was seen',
    log: [split, ...frame(6, 3), [at(9), walks]],
    is: 'contradicted',
    why: 'walking free',
    find: true,
  },
  {
    name: 'the old queen is feared, and one look since did not find her',
    log: [notSeen, eggs, stillEggs(9)],
    is: 'contradicted',
    why: 'laid since the split',
    find: true,
  },
  {
    name: 'the old queen is feared, and looks on two days since did not find her: a test frame tells',
    log: [notSeen, eggs, stillEggs(9), stillEggs(10)],
    is: 'contradicted',
    why: 'laid since the split',
  },

  // A test frame.
  {
    name: 'cells on a test frame that went in after the eggs were seen',
    log: [notSeen, eggs, ...frame(8, 3)],
    is: 'shown',
    why: 'on the test frame',
  },
  {
    name: 'cells on a test frame that went in at the visit that saw the eggs',
    log: [notSeen, eggs, ...frame(7, 3)],
    is: 'shown',
    why: 'on the test frame',
  },
  {
    name: 'no cell on a test frame that went in at the visit that saw the eggs: they were not on it',
    log: [notSeen, eggs, ...frame(7, 0)],
    is: 'contradicted',
    why: 'laid since the split',
    find: true,
  },
  {
    name: 'cells on a test frame that was in before the eggs were seen',
    log: [notSeen, ...frame(4, 3), eggs],
    is: 'contradicted',
    why: 'laid since the split',
    find: true,
  },
  {
    name: 'no cell on it',
    log: [notSeen, ...frame(4, 0)],
    is: 'not-shown',
    why: 'she may be in it',
  },
  {
    name: 'no cell on the one that was given after one with cells',
    log: [notSeen, ...frame(4, 3), ...frame(8, 0)],
    is: 'shown',
    why: 'on the test frame',
  },

  // What the introduction before leaves.
  {
    name: 'its queen may be out',
    log: [],
    over: before(at(-5), true),
    is: 'contradicted',
    why: 'introduction before was let out',
  },
  {
    name: 'and one was found since and taken away',
    log: [[at(2), taken('young-queen')]],
    over: before(at(-5), true),
    is: 'shown',
    why: 'was taken away',
  },
  { name: 'it knew of no queen', log: [], over: before(at(-5), false), is: 'shown', why: 'known from' },
  { name: 'it did not know', log: [], over: before(null, false), is: 'not-shown', why: 'nothing in the log' },

  // Emergency cells.
  {
    name: 'open cells and brood that dates the last egg',
    log: [
      [at(1), facts.inspection()],
      [at(2), { ...sealed(), cells: cells({ open: 2 }) } as FactPayload],
    ],
    over: found,
    is: 'shown',
    why: 'queen cells stand',
  },
  {
    name: 'as many open as sealed',
    log: [[at(2), { ...sealed(), cells: cells({ open: 2, sealed: 2 }) } as FactPayload]],
    over: found,
    is: 'shown',
    why: 'queen cells stand',
  },
  {
    name: 'sealed cells at a cut',
    log: [[at(2), facts.cut({ sealed: 2 }, { youngestBrood: 'sealed-only' })]],
    over: found,
    is: 'shown',
    why: 'queen cells stand',
  },
  {
    name: 'cells on one frame, and nothing tells when the last egg was laid: she may lay on another',
    log: [[at(2), standing({ sealed: 2 })]],
    over: found,
    is: 'not-shown',
    why: 'nothing in the log',
  },
  {
    name: 'shells alone say nothing of today',
    log: [[at(2), { ...sealed(), cells: cells({ emerged: 1 }) } as FactPayload]],
    over: found,
    is: 'not-shown',
    why: 'nothing in the log',
  },
  {
    name: 'cells after a split at which none stood',
    log: [notSeen, [at(7), facts.cut({ sealed: 8 }, { youngestBrood: 'old-larvae' })]],
    is: 'shown',
    why: 'queen cells stand',
  },
  {
    name: 'cells on day 3 after a split at which swarm cells were left: a queen lives beside those',
    log: [
      [at(0), facts.split({ oldQueen: 'not-seen', cellsAlreadyThere: 'present-and-left' })],
      [at(3), facts.cut({ sealed: 8 }, { youngestBrood: 'young-larvae' })],
    ],
    is: 'not-shown',
    why: 'she may be in it',
  },
])('$name: $is', ({ log, over, is, why, find }) => {
  const { evidence } = stateAt(log, at(40), over);
  expect(evidence).toMatchObject({ queenless: is, queenlessWhy: expect.stringContaining(why) as string });
  expect(queenToFind(evidence)).toBe(find ?? false);
  expect(oldQueenFeared(evidence)).toBe(why === 'laid since the split');
});
