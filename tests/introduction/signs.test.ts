/**
 * What a log shows of laying workers, of bees at the cage and of temper. Workers lay several eggs in a cell, on its walls,
 * and only drones; a queen that has just begun may lay two in a cell, on the bottom (common practice).
 */
import { describe, expect, it } from 'vitest';
import { layingWorkersClearedDays } from '../../server/biology/figures.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { foldSigns, signsAsked } from '../../server/introduction/log/signs.ts';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import { at, facts, logOf } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];
type Known = Parameters<typeof foldSigns>[1];

const signsOf = (log: Entries, known: Partial<Known> = {}) =>
  foldSigns(effectiveFacts('intro-one', logOf(log), at(99)), {
    watchFromMs: at(24),
    releasedAtMs: null,
    ...known,
  });

const clean = facts.inspection({ youngestBrood: 'none' });
const several = facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true });
const walls = facts.inspection({ youngestBrood: 'eggs', eggsStand: 'walls' });
const drones = facts.inspection({ youngestBrood: 'eggs', droneBroodInWorkerCells: true });
const cleared = layingWorkersClearedDays.value;
const frame = (inDay: number, cellsOnIt: number, inHour = 10): Entries => [
  [at(inDay, inHour), facts.broodAdded({ asTestFrame: true })],
  [at(inDay + 2, inHour), facts.broodTaken({ cellsOnIt })],
];

describe('laying workers', () => {
  interface Row {
    readonly name: string;
    readonly log: Entries;
    /** What was seen; null where they are not known, or disproved. */
    readonly workers: string | null;
    /** A sign to look for again. */
    readonly suspected?: string;
    readonly known?: Partial<Known>;
  }
  it.each<Row>([
    { name: 'nothing found', log: [[at(30), clean]], workers: null },
    { name: 'several eggs a cell', log: [[at(30), several]], workers: 'several-eggs-a-cell' },
    {
      name: 'nobody looked at the brood, and signs were written down all the same',
      log: [[at(30), facts.inspection({ droneBroodInWorkerCells: true })]],
      workers: 'drone-brood-in-worker-cells',
    },
    {
      name: 'and no sign on every frame the next day',
      log: [
        [at(30), several],
        [at(31), clean],
      ],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'and no sign at two looks, too few days apart',
      log: [
        [at(30), several],
        [at(31), clean],
        [at(31 + cleared - 1), clean],
      ],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'and no sign at two looks, days enough apart',
      log: [
        [at(30), several],
        [at(31), clean],
        [at(31 + cleared), clean],
      ],
      workers: null,
    },
    {
      name: 'and no sign at two looks, one of them not on every frame',
      log: [
        [at(30), several],
        [at(31), facts.inspection({ youngestBrood: 'none', everyFrameChecked: false })],
        [at(31 + cleared), clean],
      ],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'and at two looks nobody wrote whether there were signs',
      log: [
        [at(30), several],
        [at(31), facts.inspection({ youngestBrood: 'none', severalEggsACell: undefined })],
        [at(31 + cleared), facts.inspection({ youngestBrood: 'none', droneBroodInWorkerCells: undefined })],
      ],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'signs between the two clean looks: the days begin anew',
      log: [
        [at(30), several],
        [at(31), clean],
        [at(33), drones],
        [at(31 + cleared), clean],
      ],
      workers: 'drone-brood-in-worker-cells',
    },

    // Cells on a test frame: no worker rules the bees.
    {
      name: 'and cells on a frame that was given then',
      log: [[at(30), several], ...frame(31, 3)],
      workers: null,
    },
    {
      name: 'and cells on a frame that was given at the same visit',
      log: [[at(30), several], ...frame(30, 3)],
      workers: null,
    },
    {
      name: 'and no cell on it',
      log: [[at(30), several], ...frame(31, 0)],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'and cells on a frame that was given before',
      log: [...frame(28, 3), [at(29), several], [at(31), { kind: 'note' }]],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'seen while a frame is in that has cells',
      log: [
        [at(28), facts.broodAdded({ asTestFrame: true })],
        [at(29), several],
        [at(30), facts.broodTaken({ cellsOnIt: 3 })],
      ],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'seen after one frame with cells, and none on the next',
      log: [...frame(20, 3), [at(29), several], ...frame(30, 0)],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'and no cell on one frame, then cells on the next',
      log: [[at(30), several], ...frame(31, 0), ...frame(34, 3)],
      workers: null,
    },
    {
      name: 'and a frame of sealed brood is taken out, no test',
      log: [
        [at(30), several],
        [at(31), facts.broodTaken({ asTestFrame: false, cellsOnIt: 3 })],
      ],
      workers: 'several-eggs-a-cell',
    },

    // A look for the queen.
    {
      name: 'several eggs, then single ones on the bottom: hers',
      log: [
        [at(30), several],
        [at(33), facts.looked({ eggsStand: 'bottom' })],
      ],
      workers: null,
    },
    {
      name: 'several eggs, then single ones and nobody saw where they stand',
      log: [
        [at(30), several],
        [at(33), facts.looked()],
      ],
      workers: 'several-eggs-a-cell',
    },
    {
      name: 'drone brood, then eggs on the bottom: a queen that is not mated lays so too',
      log: [
        [at(30), drones],
        [at(33), facts.looked({ eggsStand: 'bottom' })],
      ],
      workers: 'drone-brood-in-worker-cells',
    },
    {
      name: 'drone brood, then sealed worker brood: a mated queen’s',
      log: [
        [at(30), drones],
        [at(33), facts.looked({ sealedWorkerBroodSeen: true })],
      ],
      workers: null,
    },
    {
      name: 'drone brood and sealed worker brood side by side',
      log: [
        [at(30), drones],
        [at(33), facts.looked({ sealedWorkerBroodSeen: true, droneBroodInWorkerCells: true })],
      ],
      workers: 'drone-brood-in-worker-cells',
    },
    {
      name: 'looks for her are not on every frame: two clean ones clear nothing',
      log: [
        [at(30), drones],
        [at(31), facts.looked()],
        [at(31 + cleared), facts.looked()],
      ],
      workers: 'drone-brood-in-worker-cells',
    },

    // One sight of eggs on the walls, before workers can be expected to lay.
    {
      name: 'eggs on the walls once, early',
      log: [[at(10), walls]],
      workers: null,
      suspected: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls twice within one visit: the same sight',
      log: [
        [at(10), walls],
        [at(10, 10.5), walls],
      ],
      workers: null,
      suspected: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls on two days',
      log: [
        [at(10), walls],
        [at(12), walls],
      ],
      workers: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls on two days, and once more at the same visit',
      log: [
        [at(10), walls],
        [at(12), walls],
        [at(12, 10.5), walls],
      ],
      workers: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls and several in a cell',
      log: [
        [at(10), facts.inspection({ youngestBrood: 'eggs', eggsStand: 'walls', severalEggsACell: true })],
      ],
      workers: 'eggs-on-the-walls',
    },
    {
      name: 'drone brood and several eggs, on the bottom',
      log: [[at(10), facts.inspection({ severalEggsACell: true, droneBroodInWorkerCells: true })]],
      workers: 'drone-brood-in-worker-cells',
    },
    {
      name: 'eggs on the walls once, when workers may lay',
      log: [[at(24), walls]],
      workers: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls once, and nobody knows when workers may lay',
      log: [[at(10), walls]],
      known: { watchFromMs: null },
      workers: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls once, after a queen was let out: she may be a drone layer',
      log: [[at(15), walls]],
      known: { releasedAtMs: at(12) },
      workers: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls once, before she was let out',
      log: [[at(10), walls]],
      known: { releasedAtMs: at(12) },
      workers: null,
      suspected: 'eggs-on-the-walls',
    },
    {
      name: 'eggs on the walls once, and none at the next look on every frame',
      log: [
        [at(10), walls],
        [at(12), clean],
      ],
      workers: null,
    },
    {
      name: 'eggs on the walls once, and none at a second look within the visit: as good as not looked again',
      log: [
        [at(10), walls],
        [at(10, 10.5), clean],
      ],
      workers: null,
      suspected: 'eggs-on-the-walls',
    },
    {
      name: 'carried over without a word on how often: taken as sure',
      log: [],
      known: { carried: { layingWorkers: { what: 'eggs-on-the-walls', atMs: at(-4) } } },
      workers: 'eggs-on-the-walls',
    },
  ])('$name: $workers', ({ log, workers, suspected, known }) => {
    const signs = signsOf(log, known);
    expect(signs.layingWorkers?.what ?? null).toBe(workers);
    expect(signs.suspected?.what).toBe(suspected);
  });

  it('two signs in one look count as two sights, one sign does not', () => {
    const twice = (over: Parameters<typeof facts.inspection>[0]) =>
      signsOf([[at(30), facts.inspection(over)]]).layingWorkers?.twice;
    expect(twice({ severalEggsACell: true })).toBe(false);
    expect(twice({ droneBroodInWorkerCells: true, eggsStand: 'bottom' })).toBe(false);
    expect(twice({ droneBroodInWorkerCells: true, severalEggsACell: true })).toBe(true);
    expect(twice({ droneBroodInWorkerCells: true, eggsStand: 'walls' })).toBe(true);
  });

  it('tells where the eggs stood only where somebody wrote it down', () => {
    expect(signsOf([[at(30), several]]).layingWorkers).toStrictEqual({
      what: 'several-eggs-a-cell',
      atMs: at(30),
      twice: false,
    });
    expect(signsOf([[at(30), walls]]).layingWorkers).toMatchObject({ eggsStand: 'walls' });
  });

  it('knows the last look that would have shown them', () => {
    const looked = (log: Entries) => signsOf(log).lookedForLayingWorkersAtMs;
    const half = facts.inspection({ youngestBrood: 'none', severalEggsACell: undefined });
    const other = facts.inspection({ youngestBrood: 'none', droneBroodInWorkerCells: undefined });
    expect(looked([[at(9), clean]])).toBe(at(9));
    expect(looked([[at(9), several]])).toBe(at(9));
    expect(looked([[at(9), half]])).toBeNull();
    expect(looked([[at(9), other]])).toBeNull();
    expect(looked([[at(9), facts.inspection()]])).toBeNull();
    expect(signsAsked({ severalEggsACell: false, droneBroodInWorkerCells: false })).toBe(true);
    expect(signsAsked({ severalEggsACell: false })).toBe(false);
    expect(signsAsked({ droneBroodInWorkerCells: false })).toBe(false);
  });
});

describe('bees', () => {
  it('bite since the first of the visits in a row at which they bit', () => {
    const since = (...seen: readonly (readonly [number, 'biting' | 'feeding' | 'indifferent'])[]) =>
      signsOf(seen.map(([day, behaviour]) => [at(day), facts.atCage({ behaviour })])).bitingSinceMs;
    expect(since([8, 'biting'])).toBe(at(8));
    expect(since([8, 'biting'], [9, 'biting'])).toBe(at(8));
    expect(since([8, 'biting'], [9, 'feeding'])).toBeNull();
    expect(since([8, 'biting'], [9, 'indifferent'], [10, 'biting'])).toBe(at(10));
    expect(since([8, 'feeding'])).toBeNull();
  });

  it('show their temper at a look for the queen as at any other', () => {
    expect(signsOf([[at(17), facts.looked({ behaviour: 'hostile' })]]).temperament).toEqual({
      what: 'hostile',
      atMs: at(17),
    });
    expect(
      signsOf([
        [at(17), facts.looked({ behaviour: 'hostile' })],
        [at(18), facts.inspection({ temperament: 'calm' })],
        [at(19), facts.inspection()],
      ]).temperament,
    ).toEqual({ what: 'calm', atMs: at(18) });
  });
});
