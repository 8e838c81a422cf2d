/** What a look for cells says of frames left out, and which cells it left standing. Expectations: what the log's words mean. */
import { describe, expect, it } from 'vitest';
import { combsInNuc } from '../../server/biology/figures.ts';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import type { CellCounts, FactPayload } from '../../server/introduction/log/facts.ts';
import { cellLooks, cellsLeftStanding } from '../../server/introduction/log/looks.ts';
import { at, facts, logOf } from './support/field-log.ts';

type Entries = readonly (readonly [atMs: number, fact: FactPayload])[];
const read = (log: Entries) => effectiveFacts('intro-one', logOf(log), at(30));

const saw = (day: number, found: Partial<CellCounts>): Entries[number] => [
  at(day),
  facts.inspection({ cells: { open: 0, sealed: 0, emerged: 0, tornDown: 0, ...found } }),
];
const three = saw(5, { open: 1, sealed: 2 });
const split = (day: number, over: Parameters<typeof facts.split>[0] = {}): Entries[number] => [
  at(day),
  facts.split(over),
];
const out = { cellsAlreadyThere: 'present-and-removed' } as const;
const takesDown = (cells: Partial<CellCounts>): FactPayload =>
  facts.looked({
    cells: { open: 0, sealed: 0, emerged: 0, tornDown: 0, ...cells },
    cellsTakenDown: true,
  });

describe('cells that were seen and left', () => {
  it.each<{ name: string; log: Entries; standing: boolean }>([
    { name: 'stand while nobody cut them', log: [three], standing: true },
    { name: 'do not, where none was seen', log: [saw(5, { tornDown: 3, emerged: 1 })], standing: false },
    {
      name: 'are gone after a cut on every frame',
      log: [three, [at(7), facts.cut({ sealed: 3 })]],
      standing: false,
    },
    {
      name: 'are gone where such a cut is logged for the same minute',
      log: [three, [at(5), facts.cut({ sealed: 3 })]],
      standing: false,
    },
    {
      name: 'are gone where a later look on every frame finds none',
      log: [three, saw(7, {})],
      standing: false,
    },
    {
      name: 'stand after a cut that left frames out',
      log: [three, [at(7), facts.cut({ sealed: 3 }, { everyFrameChecked: false })]],
      standing: true,
    },
    {
      name: 'stand after a cut with the bees left on',
      log: [three, [at(7), facts.cut({ sealed: 3 }, { beesShakenOff: false })]],
      standing: true,
    },
    {
      name: 'stand after a cut that came before they were seen',
      log: [[at(4), facts.cut({ sealed: 3 })], three],
      standing: true,
    },
    {
      name: 'are gone where a look for the queen took down as many',
      log: [three, [at(17), takesDown({ sealed: 3 })]],
      standing: false,
    },
    {
      name: 'stand where it took down fewer',
      log: [three, [at(17), takesDown({ sealed: 2 })]],
      standing: true,
    },
    {
      name: 'are gone where all were taken out at the split',
      log: [saw(-1, { sealed: 3 }), split(0, out)],
      standing: false,
    },
    {
      name: 'are gone where as many were taken out in the visit that saw them',
      log: [saw(0, { sealed: 3 }), split(0, { ...out, cellsTakenOut: 3 })],
      standing: false,
    },
    {
      name: 'stand where fewer were taken out at the split',
      log: [saw(-1, { sealed: 3 }), split(0, { ...out, cellsTakenOut: 2 })],
      standing: true,
    },
    {
      name: 'stand where they were left at the split',
      log: [saw(-1, { sealed: 3 }), split(0, { cellsAlreadyThere: 'present-and-left' })],
      standing: true,
    },
    {
      name: 'stand where the split that took some out came before',
      log: [split(0, out), three],
      standing: true,
    },
    {
      name: 'are gone where they were taken out with the old queen',
      log: [three, [at(6), { kind: 'queen-removed', which: 'old-queen', ...out }]],
      standing: false,
    },
  ])('$name', ({ log, standing }) => {
    const known = read(log);
    expect(cellsLeftStanding(cellLooks(known), known, null) !== undefined).toBe(standing);
  });
});

describe('frames that a cut left out', () => {
  const cut = (framesSkipped?: number): Entries[number] => [
    at(7),
    facts.cut({}, { everyFrameChecked: false, ...(framesSkipped === undefined ? {} : { framesSkipped }) }),
  ];
  const six = split(0, { framesOfSealedBrood: 2, framesOfOpenBrood: 1, framesOfStores: 3 });
  it.each<{ name: string; log: Entries; share: number | null }>([
    { name: 'not counted', log: [six, cut()], share: null },
    { name: 'two of the six that were given', log: [six, cut(2)], share: 1 / 3 },
    { name: 'more than were given: all', log: [six, cut(9)], share: 1 },
    { name: 'one, where nobody counted those of the nuc', log: [cut(1)], share: 1 / combsInNuc.value },
  ])('$name', ({ log, share }) => {
    expect(cellLooks(read(log)).at(-1)?.framesLeftShare).toBe(share);
  });

  it('and cells of which nobody said how many make no complete look', () => {
    const [counted, open, none] = [{ open: 0, sealed: 0 }, { open: 0 }, {}].map(
      (cells) => cellLooks(read([[at(7), facts.inspection({ cells })]])).at(-1)?.complete,
    );
    expect([counted, open, none]).toEqual([true, true, false]);
  });
});
