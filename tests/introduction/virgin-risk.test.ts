/**
 * From when on a virgin may be loose, by the days alone and, where looks came too late for that, by their chance. A queen
 * needs 15-17 d from the egg (Mussen et al. 1987); the oldest larva that is still taken is 4 d old, so 8 d from a cell's
 * start, half a day more after a sudden loss (Fell and Morse 1984: the first cells follow within 12-48 h).
 */
import { describe, expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { at, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];

const day = 86_400_000;
const taken = (
  which: 'old-queen' | 'virgin' | 'young-queen',
  there?: 'none' | 'present-and-left',
): FactPayload => ({
  kind: 'queen-removed',
  which,
  ...(there && { cellsAlreadyThere: there }),
});
const split = [at(0), facts.split()] as const;
const cut7 = [at(7), facts.cut({ open: 1, sealed: 8 })] as const;
const cut10 = [at(10), facts.cut()] as const;

const riskOf = (log: Entries, nowMs: number, over: Partial<IntroductionSetup> = {}) => {
  const { virgin } = stateAt(log, nowMs, over);
  const from = virgin.possibleFromMs === null ? null : (virgin.possibleFromMs - at(0)) / day;
  return { ...virgin, from };
};

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly over?: Partial<IntroductionSetup>;
  /** Days after day 0; null where no virgin can come any more. */
  readonly from: number | null;
}

const requeened: Partial<IntroductionSetup> = { startingPoint: 'requeened-in-place' };

describe('the first day on which a virgin may be loose', () => {
  it.each<Row>([
    { name: 'after a split, 8½ days', log: [split], from: 8.5 },
    {
      name: 'where the old queen was not seen, half a day sooner: the bees may have known for long',
      log: [[at(0), facts.split({ oldQueen: 'not-seen' })]],
      from: 8,
    },
    {
      name: 'after the old queen was taken out, 8½ days',
      log: [[at(0), taken('old-queen', 'none')]],
      over: requeened,
      from: 8.5,
    },
    {
      name: 'after an old queen who was found later, from her own day',
      log: [
        [at(0), facts.split({ oldQueen: 'not-seen' })],
        [at(5), taken('old-queen')],
      ],
      from: 13.5,
    },
    {
      name: 'after a cut while larvae are left, 8 days from the cut',
      log: [split, [at(6), facts.cut({ sealed: 6 })]],
      from: 14,
    },
    {
      name: 'after a look that was not on every frame, as before it',
      log: [split, [at(6), facts.cut({ sealed: 6 }, { everyFrameChecked: false })]],
      from: 8.5,
    },
    { name: 'after cuts on days 7 and 10, never', log: [split, cut7, cut10], from: null },
    {
      name: 'after a frame with eggs, 8 days from the cut that followed it',
      log: [split, cut7, [at(8), facts.broodAdded()], cut10],
      from: 18,
    },
    {
      name: 'after a frame of sealed brood, never',
      log: [split, cut7, [at(8), facts.broodAdded({ brood: 'sealed-only' })], cut10],
      from: null,
    },
    {
      name: 'after a test frame that came out in time, never',
      log: [
        split,
        cut7,
        cut10,
        [at(10, 11), facts.broodAdded({ asTestFrame: true })],
        [at(12, 11), facts.broodTaken({ cellsOnIt: 3 })],
      ],
      from: null,
    },
    {
      name: 'after a test frame that is still in, 8 days from the day it went in',
      log: [split, cut7, cut10, [at(10, 11), facts.broodAdded({ asTestFrame: true })]],
      from: 18 + 1 / 24,
    },
    {
      name: 'after a second test frame that is still in, though the first came out',
      log: [
        split,
        cut7,
        cut10,
        [at(10, 11), facts.broodAdded({ asTestFrame: true })],
        [at(12, 11), facts.broodTaken({ cellsOnIt: 3 })],
        [at(13, 11), facts.broodAdded({ asTestFrame: true })],
      ],
      from: 21 + 1 / 24,
    },
    {
      name: 'after a virgin was taken on day 12 and nothing is left to rear, never',
      log: [
        split,
        cut7,
        cut10,
        [at(12), facts.inspection({ virginSeen: true })],
        [at(12, 11), taken('virgin')],
      ],
      from: null,
    },
  ])('$name', ({ log, over, from }) => {
    const nowMs = Math.max(...log.map(([ms]) => ms)) + 3_600_000;
    const risk = riskOf(log, nowMs, over);
    expect(risk).toMatchObject({ loose: 'excluded', settledBy: null });
    if (from === null) expect(risk.from).toBeNull();
    else expect(risk.from).toBeCloseTo(from, 6);
    if (from === null) return;
    expect(riskOf(log, at(0) + from * day - 1, over).loose).toBe('excluded');
    expect(riskOf(log, at(0) + from * day, over).loose).toBe('possible');
  });
});

describe('a test frame that was forgotten', () => {
  const frame = (outHour: number, cellsOnIt: number | undefined): Entries => [
    split,
    cut7,
    cut10,
    [at(10, 11), facts.broodAdded({ asTestFrame: true })],
    [at(18, outHour), facts.broodTaken(cellsOnIt === undefined ? {} : { cellsOnIt })],
  ];
  it.each([
    { cells: 'not counted', cellsOnIt: undefined },
    { cells: 'none', cellsOnIt: 0 },
    { cells: 'three', cellsOnIt: 3 },
  ])('may have given one after eight days; cells on it: $cells', ({ cellsOnIt }) => {
    expect(riskOf(frame(10, cellsOnIt), at(19)).loose).toBe('excluded');
    expect(riskOf(frame(11, cellsOnIt), at(19)).loose).toBe('possible');
  });
});

describe('looks that came too late for the days', () => {
  it('let her be excluded where their chance is small, and not where cells were found', () => {
    const late = (found: number): Entries => [
      split,
      cut7,
      [at(11), facts.cut({ sealed: found })],
      [at(17), facts.cut()],
    ];
    const late6: Entries = [split, [at(5), facts.cut({ sealed: 6 })], [at(14), facts.cut({ sealed: 5 })]];
    const clean = riskOf(late(0), at(17, 12));
    expect(clean).toMatchObject({ loose: 'excluded', from: null });
    const risky = riskOf(late6, at(14, 12));
    expect(risky.chanceOut).toBeGreaterThan(0.05);
    expect(risky.loose).toBe('possible');
    expect(risky.why).toContain('a chance of');
    expect(risky.settledBy).toContain('test frame');
  });
});

describe('why she may be loose', () => {
  const why = (log: Entries, over: Partial<IntroductionSetup> = {}) => {
    const risk = riskOf(log, at(12), over);
    return [risk.loose, risk.why];
  };

  it.each<readonly [string, Entries, Partial<IntroductionSetup>, string]>([
    [
      'a cell left at the split',
      [[at(0), facts.split({ cellsAlreadyThere: 'present-and-left' })]],
      {},
      'queen cells stood at the split and were left',
    ],
    [
      'nobody looked at the split',
      [[at(0), facts.split({ cellsAlreadyThere: 'not-looked' })]],
      {},
      'nobody looked for queen cells at the split',
    ],
    [
      'nobody looked when she was taken out',
      [[at(0), taken('old-queen')]],
      requeened,
      'nobody looked for queen cells when the old queen was taken out',
    ],
    [
      'cells left when she was taken out',
      [[at(0), taken('old-queen', 'present-and-left')]],
      requeened,
      'queen cells stood when the old queen was taken out and were left',
    ],
    [
      'no loss is logged',
      [[at(0), facts.inspection()]],
      { startingPoint: 'hopelessly-queenless' },
      'it is not known since when it is queenless',
    ],
    [
      'cells of unknown age',
      [[at(0), facts.inspection({ cells: { open: 0, sealed: 2, emerged: 0, tornDown: 0 } })]],
      { startingPoint: 'queenless-with-cells' },
      'how old the cells are is not known',
    ],
    [
      'a shell',
      [split, [at(7), facts.cut({ sealed: 3, emerged: 1 })]],
      {},
      'an emerged queen cell was found',
    ],
  ])('%s', (_, log, over, expected) => {
    expect(why(log, over)).toEqual(['possible', expected]);
  });

  it('a virgin that was seen stays seen when a later look finds only her shell, and is gone once she is taken', () => {
    const seen: Entries = [
      split,
      [at(9), facts.cut({}, { virginSeen: true })],
      [at(10), facts.cut({ emerged: 1 })],
    ];
    expect(why(seen)).toEqual(['seen', 'a virgin was seen']);
    expect(why([...seen, [at(11), taken('virgin')]])[0]).toBe('excluded');
  });

  it('two shells and one virgin leave one more', () => {
    const log: Entries = [split, [at(9), facts.cut({ emerged: 2 })], [at(10), taken('virgin')]];
    expect(why(log)).toEqual([
      'possible',
      '2 emerged cells were found, 1 taken away: 1 more virgin may be out',
    ]);
    expect(why([split, [at(9), facts.cut({ emerged: 3 })], [at(10), taken('virgin')]])[1]).toContain(
      '2 more virgins',
    );
    expect(why([...log, [at(11), taken('virgin')]])[0]).toBe('excluded');
  });

  it('shells that still hang after a look are not counted again', () => {
    const log: Entries = [
      split,
      [at(9), facts.inspection({ cells: { open: 0, sealed: 0, emerged: 1, tornDown: 0 } })],
      [at(10), facts.inspection({ cells: { open: 0, sealed: 0, emerged: 1, tornDown: 0 } })],
      [at(11), taken('virgin')],
    ];
    expect(why(log)[0]).toBe('excluded');
  });

  it('a complete look on the day of the split stands for what nobody wrote down of it', () => {
    const log = (sameDay: FactPayload): Entries => [
      [at(0), facts.split({ cellsAlreadyThere: 'not-looked' })],
      [at(0, 11), sameDay],
    ];
    const at1 = (sameDay: FactPayload) => riskOf(log(sameDay), at(1)).loose;
    expect(at1(facts.cut())).toBe('excluded');
    expect(at1(facts.cut({ emerged: 1 }))).toBe('possible');
    expect(at1(facts.cut({ tornDown: 1 }))).toBe('possible');
    expect(at1(facts.cut({}, { everyFrameChecked: false }))).toBe('possible');
  });
});
