/**
 * Whose brood was seen, and how it moves the last egg, in days after the split. Ages on the brood calendar (Mussen et al.
 * 1987): eggs up to 3½ days, young larvae 3 to 5½, larvae near sealing 4½ to 10½ with drones, sealed from 8½, no brood from 20.
 */
import { describe, expect, it } from 'vitest';
import { nothingYoungSeen } from '../../server/introduction/brood/brood-sights.ts';
import { dead } from './support/after-release.ts';
import { frame, split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';
import { lastEggs, notSeen, some, through } from './support/last-eggs.ts';

const mesh: Setup = { method: 'push-in-cage' };
const found: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const pressed = (day: number, hour = 10): Entries[number] => [at(day, hour), facts.hung()];
/** Let out on day 10 into a split at which nobody saw the old queen. */
const outUnseen: Entries = [
  notSeen(),
  [at(9), facts.hung()],
  [at(10), { kind: 'cage-taken-out', queen: 'left-in-nuc' }],
];
const fromParent = 'split made with the old queen seen in the parent colony';

describe('nothing young was seen', () => {
  it.each<readonly [Parameters<typeof facts.inspection>[0], boolean]>([
    [{ youngestBrood: 'eggs' }, false],
    [{ youngestBrood: 'young-larvae' }, false],
    [{ youngestBrood: 'old-larvae' }, true],
    [{ youngestBrood: 'sealed-only' }, true],
    [{ youngestBrood: 'none' }, true],
    [{ youngestBrood: 'not-looked' }, false],
    [{ youngestBrood: 'eggs', eggsOutsideMesh: false }, true],
    [{ youngestBrood: 'young-larvae', eggsOutsideMesh: false }, true],
    [{ youngestBrood: 'eggs', eggsOutsideMesh: true }, false],
  ])('%j: %j', (over, is) => {
    const look = facts.inspection(over);
    expect(look.kind === 'inspection' && nothingYoungSeen(look)).toBe(is);
  });
});

describe('whose it is', () => {
  const tooYoung = ['brood-too-young'];
  lastEggs([
    {
      name: 'eggs before she was under the mesh: not hers',
      log: [split, some(5, { youngestBrood: 'eggs' }), pressed(7)],
      over: mesh,
      contradictions: tooYoung,
    },
    {
      name: 'eggs in the visit in which she was pressed under it',
      log: [split, some(7, { youngestBrood: 'eggs' }), pressed(7)],
      over: mesh,
      contradictions: tooYoung,
    },
    {
      name: 'eggs as she is found dead: hers',
      log: [
        split,
        [at(9), facts.hung()],
        [at(10), facts.opened()],
        some(17, { youngestBrood: 'eggs' }),
        dead(17),
      ],
      contradictions: [],
      later: [17],
      likely: 17,
    },
    {
      name: 'eggs in the look that finds her cage empty: hers',
      log: [split, [at(7), facts.hung()], [at(14), facts.looked({ queenSeen: false })]],
      contradictions: [],
    },
    {
      name: 'eggs beside her closed cage: not hers, and no look on every frame dates them',
      log: [split, [at(7), facts.hung()], [at(14), facts.looked({ queenSeen: false, cageEmpty: false })]],
      egg: [10.5, null],
      contradictions: tooYoung,
    },
    {
      name: 'and where the old queen was not seen',
      log: [notSeen(), [at(7), facts.hung()], [at(14), facts.looked({ queenSeen: false, cageEmpty: false })]],
      egg: [10.5, null],
      contradictions: ['brood-since-the-split'],
    },
    {
      name: 'sealed brood four days after she was let out is older than her time here',
      log: [...outUnseen, through(14, { youngestBrood: 'sealed-only' })],
      over: mesh,
      egg: [-2, 5.5],
    },
    {
      name: 'sealed brood twelve days after may be hers',
      log: [...outUnseen, through(22, { youngestBrood: 'sealed-only' })],
      over: mesh,
      egg: [-2, null],
    },
    {
      name: 'an empty nest is nobody’s',
      log: [...outUnseen, through(25, { youngestBrood: 'none' })],
      over: mesh,
      egg: [-2, 5],
    },
    {
      name: 'a young larva in a cell, and she could have laid it',
      log: [split, pressed(1), [at(9), facts.cut({}, { youngLarvaInOpenCell: true })]],
      over: mesh,
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'eggs under her mesh, and nobody said where others stand',
      log: [notSeen(), pressed(0, 12), through(8, { youngestBrood: 'eggs' })],
      over: mesh,
      egg: [-2, null],
    },
    {
      name: 'none but those, and not on every frame',
      log: [notSeen(), pressed(0, 12), some(8, { youngestBrood: 'eggs', eggsOutsideMesh: false })],
      over: mesh,
      egg: [-2, null],
    },
    {
      name: 'none but those, and the split has a date',
      log: [split, pressed(0, 12), through(8, { youngestBrood: 'eggs', eggsOutsideMesh: false })],
      over: mesh,
      egg: [0, 0],
      restsOn: [fromParent],
    },
  ]);

  it('names the entry that does not fit, and when', () => {
    const { evidence } = stateAt([split, some(7, { youngestBrood: 'eggs' })], at(8));
    expect(evidence.contradictions).toMatchObject([{ atMs: at(7), factIds: ['intro-one-f001'] }]);
  });

  it('says who may have laid it in a colony that was taken for hopeless', () => {
    const text = (youngestBrood: 'eggs' | 'old-larvae') =>
      stateAt([some(1, { youngestBrood })], at(2), found).evidence.contradictions[0]?.text;
    expect(text('eggs')).toContain('A queen or workers are laying');
    expect(text('old-larvae')).toContain('Bees without a queen would have started cells');
  });
});

describe('what it rests on', () => {
  lastEggs([
    {
      name: 'eggs on one frame',
      log: [notSeen(), some(3, { youngestBrood: 'eggs' })],
      egg: [-0.5, null],
      restsOn: ['eggs seen'],
    },
    {
      name: 'no brood on one frame',
      log: [notSeen(), some(25, { youngestBrood: 'none' })],
      egg: [-2, null],
      restsOn: [],
    },
    {
      name: 'eggs of a split that has its date',
      log: [split, some(3, { youngestBrood: 'eggs' })],
      egg: [0, 0],
      restsOn: [fromParent],
    },
    {
      name: 'two looks on every frame: the narrower',
      log: [
        notSeen(),
        through(6, { youngestBrood: 'old-larvae' }),
        through(9, { youngestBrood: 'sealed-only' }),
      ],
      egg: [-2, 0.5],
    },
  ]);
});

describe('a look that does not fit the split', () => {
  lastEggs([
    {
      name: 'larvae near sealing on day 16, and a week before nothing young was left: misjudged',
      log: [split, through(9, { youngestBrood: 'old-larvae' }), through(16, { youngestBrood: 'old-larvae' })],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'and one frame was looked at in between',
      log: [
        split,
        through(9, { youngestBrood: 'old-larvae' }),
        some(12, { youngestBrood: 'old-larvae' }),
        through(16, { youngestBrood: 'old-larvae' }),
      ],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'the look before left frames out: somebody lays',
      log: [
        split,
        through(9, { youngestBrood: 'old-larvae', everyFrameChecked: false }),
        through(16, { youngestBrood: 'old-larvae' }),
      ],
      contradictions: ['brood-too-young'],
    },
    {
      name: 'the look before did not shake the bees off',
      log: [
        split,
        through(9, { youngestBrood: 'old-larvae', beesShakenOff: false }),
        through(16, { youngestBrood: 'old-larvae' }),
      ],
      contradictions: ['brood-too-young'],
    },
    {
      name: 'a young larva in a cell on day 5: of the split',
      log: [split, [at(5), facts.cut({ open: 1 }, { youngLarvaInOpenCell: true })]],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'one in a cell on day 8, and nothing dates the last egg',
      log: [notSeen(), [at(8), facts.cut({ open: 1 }, { youngLarvaInOpenCell: true })]],
      egg: [-2, null],
      contradictions: [],
    },
    {
      name: 'one on day 9, and days later larvae near sealing at most: it was misjudged',
      log: [
        split,
        [at(9), facts.cut({ open: 1 }, { youngLarvaInOpenCell: true })],
        through(13, { youngestBrood: 'old-larvae' }),
      ],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'the same where the split has no date: the later egg stands',
      log: [
        notSeen(),
        through(6, { youngestBrood: 'old-larvae' }),
        [at(10), facts.cut({ open: 1 }, { youngLarvaInOpenCell: true })],
        through(12, { youngestBrood: 'old-larvae' }),
      ],
      egg: [1.5, 7],
    },
    {
      name: 'one on day 9, and cells on a test frame: it may be a queen’s all the same',
      log: [split, [at(9), facts.cut({ open: 1 }, { youngLarvaInOpenCell: true })], ...frame(10, 12, 3)],
      contradictions: ['young-larva-in-late-cell'],
    },
  ]);
});

describe('brood that is brought in', () => {
  lastEggs([
    {
      name: 'eggs seen the day after on a frame that was given to a hopeless colony',
      log: [[at(1), facts.broodAdded()], some(2, { youngestBrood: 'eggs' })],
      over: found,
      contradictions: [],
    },
    { name: 'eggs on day 3', log: [split, [at(3), facts.broodAdded()]], egg: [0, 3], first: 0 },
    {
      name: 'larvae near sealing on day 6: laid 4½ days before',
      log: [split, [at(6), facts.broodAdded({ brood: 'old-larvae' })]],
      egg: [0, 1.5],
    },
    {
      name: 'larvae near sealing on day 3: older than the last egg',
      log: [split, [at(3), facts.broodAdded({ brood: 'old-larvae' })]],
      egg: [0, 0],
      first: 0,
    },
    {
      name: 'a young queen of its own is taken away on day 30: the bees lost one that laid',
      log: [split, [at(30), { kind: 'queen-removed', which: 'young-queen' }]],
      egg: [30, 30],
      first: 0,
      later: [30],
    },
  ]);
});
