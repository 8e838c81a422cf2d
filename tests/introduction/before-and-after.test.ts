/** Before it began and after it was closed: which acts wait for the split or the old queen, and that none goes on at the end. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { actKinds, type ActKind } from '../../server/introduction/acts/draft.ts';
import { rowOf } from '../../server/introduction/acts/table.ts';
import type { FactKind } from '../../server/introduction/log/facts.ts';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, cells, cleanEntries, facts, stateAt } from './support/field-log.ts';

const permission = (kind: ActKind, log: Entries, now: number, over: Setup = {}) =>
  answerFor(stateAt(log, now, over)).permissionOf(kind);

describe('a closed introduction', () => {
  it.each(actKinds)('%s: stop', (kind) => {
    const closed: Entries = [...cleanEntries, [at(11), { kind: 'outcome', outcome: 'given-up' }]];
    expect(permission(kind, closed, at(12))).toMatchObject({
      answer: 'stop',
      headline: 'This introduction is closed',
    });
  });
});

/** What is done in the nuc, and has no sense before there is one. */
const inTheNuc: readonly ActKind[] = [
  ...([
    'look-through',
    'early-cut',
    'cut-cells',
    'second-look',
    'one-more-look',
    'cut-after-release',
  ] as const),
  ...(['hang-cage', 'open-candy', 'add-bees', 'give-brood', 'test-frame-in', 'take-queen-out'] as const),
];

describe('before the split', () => {
  const planned: Setup = { plannedSplitMs: at(2) };
  it.each(inTheNuc)('%s waits for it', (kind) => {
    expect(permission(kind, [], at(0), planned)).toMatchObject({
      answer: 'wait',
      headline: 'The split has not been made',
    });
  });
});

describe('before the old queen is found', () => {
  it.each(inTheNuc)('%s waits for that', (kind) => {
    const { answer, first } = permission(kind, [], at(0), { startingPoint: 'requeened-in-place' });
    expect([answer, first[0]?.kind]).toEqual(['wait', 'find-old-queen']);
  });
});

describe('a look that is asked for from a day on', () => {
  // One sight of eggs on the walls so soon without a queen may be a mistake (common practice: look again before you believe it).
  const walls = facts.inspection({ youngestBrood: 'eggs', eggsStand: 'walls' });
  const once: Entries = [...cleanEntries, [at(10, 12), walls]];
  const may = (log: Entries, now: number) => {
    const { plan, permissionOf } = answerFor(stateAt(log, now));
    const { answer, untilMs } = permissionOf('look-through');
    return { asked: plan.some(({ kind }) => kind === 'look-through'), answer, untilMs };
  };

  it('tells nothing on the day of the first sight, and is for the next', () => {
    expect(may(once, at(10, 13))).toEqual({ asked: true, answer: 'wait', untilMs: at(11, 0) });
    expect(may(once, at(11, 0))).toMatchObject({ answer: 'go', untilMs: undefined });
  });
});

describe('a look on every frame is logged', () => {
  const part = [at(7), facts.cut({ sealed: 2 }, { everyFrameChecked: false })] as const;
  const noDate = [at(0), facts.split({ oldQueen: 'not-seen', framesOfOpenBrood: 0 })] as const;
  it.each<{ name: string; log: Entries; now: number; over?: Setup; as: FactKind }>([
    {
      name: 'found with cells: they are cut at once',
      log: [],
      now: at(0),
      over: { startingPoint: 'queenless-with-cells' },
      as: 'cells-cut',
    },
    {
      name: 'found hopeless: nothing is to be cut',
      log: [],
      now: at(0),
      over: { startingPoint: 'hopelessly-queenless' },
      as: 'inspection',
    },
    { name: 'a cut is to be finished', log: [split, part], now: at(7, 12), as: 'cells-cut' },
    {
      name: 'the last egg has no date',
      log: [noDate, [at(7), facts.cut({ sealed: 3 })]],
      now: at(7, 12),
      as: 'inspection',
    },
    {
      name: 'found with cells, and she is out: nothing is cut beside her',
      log: [
        [at(0), facts.inspection({ cells: cells({ sealed: 2 }) })],
        [at(0, 11), facts.hung()],
        [at(1, 11), facts.opened()],
      ],
      now: at(9),
      over: { startingPoint: 'queenless-with-cells' },
      as: 'inspection',
    },
  ])('$name: $as', ({ log, now, over, as }) => {
    const { situation } = answerFor(stateAt(log, now, over));
    expect(rowOf('look-through').words(situation).logAs).toBe(as);
  });
});
