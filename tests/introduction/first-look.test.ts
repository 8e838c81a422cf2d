/** A look on every frame: the first one, one that dates the last egg, and one that finishes a cut. */
import { describe } from 'vitest';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, cells, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: at(-1) };
const hopeless: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(-1) };
const own: Setup = { startingPoint: 'own-laying-queen', openedAtMs: at(-1) };
const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];
const came = [at(0), facts.arrived()] as const;
const noDate = [at(0), facts.split({ oldQueen: 'not-seen', framesOfOpenBrood: 0 })] as const;
const through = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] => [
  at(day),
  facts.inspection(over),
];

describe('the first look', () => {
  const began = 'Nobody saw how it began';
  places('look-through', [
    {
      name: 'found with cells',
      log: [],
      now: at(0, 9),
      over: { ...withCells, openedAtMs: at(0, 8) },
      window: '0 08:00 | 0 10:00 | 1 23:59',
      why: began,
    },
    {
      name: 'found hopeless',
      log: [],
      now: at(0, 9),
      over: { ...hopeless, openedAtMs: at(0, 8) },
      window: '0 08:00 | 0 10:00 | 1 23:59',
      why: began,
    },
    {
      name: 'made',
      log: [through(0, { youngestBrood: 'young-larvae' })],
      now: at(1),
      over: withCells,
      window: '0 10:00 | 0 10:00 | 1 23:59',
      done: true,
    },
    {
      name: 'nobody said how old the brood is',
      log: [through(0)],
      now: at(1, 9),
      over: withCells,
      window: '0 10:00 | 1 10:00 | 1 23:59',
    },
    {
      name: 'a frame was left out',
      log: [through(0, { youngestBrood: 'eggs', everyFrameChecked: false })],
      now: at(1, 9),
      over: withCells,
      window: '0 10:00 | 1 10:00 | 1 23:59',
    },
    {
      name: 'she was let out without it',
      log: [
        [at(0), facts.hung()],
        [at(1), facts.opened()],
      ],
      now: at(2),
      over: withCells,
      window: null,
    },
    { name: 'it was split', log: [split], now: at(1), over: withCells, window: null },
    { name: 'a planned split', log: [split], now: at(1), window: null },
    { name: 'closed', log: [came, ended(1)], now: at(2), over: withCells, window: null },
    {
      name: 'a caged queen hangs',
      log: [[at(0), facts.hung()]],
      now: at(1, 9),
      over: withCells,
      window: '0 10:00 | 1 10:00',
      does: 'drone brood in worker cells. Log what you saw',
    },
    {
      name: 'one hangs under mesh: her eggs are told from others',
      log: [[at(0), facts.hung()]],
      now: at(1, 9),
      over: { ...withCells, method: 'push-in-cage' },
      window: '0 10:00 | 1 10:00',
      does: 'drone brood in worker cells, eggs outside the mesh. Log what you saw',
    },
    {
      name: 'a queen is to come under mesh',
      log: [],
      now: at(0, 9),
      over: { ...withCells, method: 'push-in-cage', openedAtMs: at(0, 8) },
      window: '0 08:00 | 0 10:00',
      does: 'drone brood in worker cells. Log what you saw',
    },
  ]);
});

describe('a look that gives the last egg its date', () => {
  const dates = 'The last egg has no date';
  places('look-through', [
    {
      name: 'looked through on day 7, and nobody said how old the brood is',
      log: [noDate, [at(7), facts.cut({ sealed: 3 })]],
      now: at(7, 12),
      window: '7 00:00 | 7 10:00 | 8 23:59',
      why: dates,
    },
    {
      name: 'looked through on day 6',
      log: [noDate, [at(6), facts.cut({ sealed: 3 })]],
      now: at(7),
      window: null,
    },
    {
      name: 'looked through before the split: its queen lays',
      log: [through(-1)],
      now: at(0, 8),
      over: { plannedSplitMs: at(2) },
      window: null,
    },
    {
      name: 'she is out',
      log: [noDate, [at(7), facts.cut({ sealed: 3 })], [at(7, 10.5), facts.hung()], [at(8), facts.opened()]],
      now: at(8, 12),
      window: null,
    },
    {
      name: 'workers lay',
      log: [noDate, [at(24), facts.cut({}, { severalEggsACell: true, droneBroodInWorkerCells: true })]],
      now: at(24, 12),
      window: null,
    },
  ]);
});

describe('a cut to be finished', () => {
  const finish = 'finish it in the same visit';
  const part = (day: number): Entries[number] => [
    at(day),
    facts.cut({ sealed: 2 }, { everyFrameChecked: false }),
  ];
  const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
  const clean = [at(10), facts.cut()] as const;
  const today = '7 00:00 | 7 10:00 | 8 23:59';
  places('look-through', [
    {
      name: 'a frame was left out on day 7',
      log: [split, part(7)],
      now: at(7, 12),
      window: today,
      why: finish,
    },
    {
      name: 'bees were not shaken off',
      log: [split, [at(7), facts.cut({ sealed: 2 }, { beesShakenOff: false })]],
      now: at(7, 12),
      window: today,
      why: finish,
    },
    {
      name: 'and on day 8',
      log: [split, part(7)],
      now: at(8, 9),
      window: '8 00:00 | 8 10:00 | 9 23:59',
      why: finish,
    },
    { name: 'on day 9 it is for the second look', log: [split, part(7)], now: at(9), window: null },
    {
      name: 'gone through on day 8',
      log: [split, part(7), [at(8), facts.cut()]],
      now: at(8, 12),
      window: null,
    },
    {
      name: 'looked through on every frame since, and nothing was to be cut',
      log: [split, part(7), through(8)],
      now: at(8, 12),
      window: null,
    },
    {
      name: 'one frame was looked at since',
      log: [split, part(7), [at(7, 11), facts.inspection({ everyFrameChecked: false })]],
      now: at(7, 12),
      window: today,
      why: finish,
    },
    {
      name: 'left out on day 6: that cut does not count',
      log: [split, part(6)],
      now: at(6, 12),
      window: null,
    },
    {
      name: 'left out at the second look: that one is due itself',
      log: [split, cut7, part(10)],
      now: at(10, 12),
      window: null,
    },
    {
      name: 'left out at a third look',
      log: [split, cut7, clean, part(12)],
      now: at(12, 12),
      window: '12 00:00 | 12 10:00 | 13 23:59',
      why: finish,
    },
    { name: 'and on the next day', log: [split, cut7, clean, part(12)], now: at(13), window: null },
    {
      name: 'she is out',
      log: [split, part(7), [at(7, 10.5), facts.hung()], [at(7, 11), facts.opened()]],
      now: at(7, 12),
      window: null,
    },
    { name: 'a queen of one’s own', log: [split, part(7)], now: at(7, 12), over: own, window: null },
    {
      name: 'a cell was taken down as she was looked for',
      log: [
        split,
        cut7,
        [
          at(9),
          facts.looked({
            cageEmpty: false,
            queenSeen: false,
            eggsSeen: false,
            cells: cells({ sealed: 1 }),
            cellsTakenDown: true,
          }),
        ],
      ],
      now: at(9, 12),
      window: null,
    },
  ]);
});

describe('the brood of a queen that is gone', () => {
  const gone: Entries = [
    split,
    [at(7), facts.cut({ sealed: 8 }, { youngestBrood: 'old-larvae' })],
    [at(7, 10.5), facts.hung()],
    [at(10), facts.cut()],
    [at(10, 11), facts.opened()],
    [at(17), { kind: 'queen-dead' }],
  ];
  const asked = { window: '18 00:00 | 18 10:00', why: 'A queen was out for days and may have laid' };
  places('look-through', [
    { name: 'nobody looked since', log: gone, now: at(18, 9), ...asked },
    {
      name: 'looked at since, and nobody said how old the brood is',
      log: [...gone, through(17, {})],
      now: at(18, 9),
      ...asked,
    },
    {
      name: 'looked at since, and a frame was left out',
      log: [...gone, [at(17, 12), facts.inspection({ youngestBrood: 'none', everyFrameChecked: false })]],
      now: at(18, 9),
      ...asked,
    },
    {
      name: 'no egg and no young larva: it need not be looked for again',
      log: [...gone, [at(17, 12), facts.inspection({ youngestBrood: 'none' })]],
      now: at(18, 9),
      window: null,
    },
    {
      name: 'eggs of hers: it need not be looked for again',
      log: [...gone, [at(17, 12), facts.inspection({ youngestBrood: 'eggs' })]],
      now: at(18, 9),
      window: null,
    },
    {
      name: 'the next one is let out: hands off',
      log: [
        ...gone,
        [at(18), facts.arrived({ queenId: 'queen-two' })],
        [at(18, 11), facts.hung({ queenId: 'queen-two' })],
        [at(20), facts.opened()],
      ],
      now: at(21),
      window: null,
    },
  ]);
});
