/** The plan with what forbids each act: what is blocked on its day, by what, and what is to be done first. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import type { ActKind } from '../../server/introduction/acts/draft.ts';
import { noEvidence, type GateEvidence } from '../../server/introduction/acts/gate.ts';
import type { PlanOptions, PlanStep } from '../../server/introduction/acts/plan-step.ts';
import { nextCut } from '../../server/introduction/acts/rows/cut-conditions.ts';
import { cutNow } from '../../server/introduction/acts/rows/cuts.ts';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, cells, facts, stateAt } from './support/field-log.ts';

const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const hung = [at(7, 10.5), facts.hung()] as const;
const caged: Entries = [split, cut7, hung];
const found: Entries = [...caged, [at(10), facts.cut({ sealed: 1 })]];
const leaving = { foragersGone: { answer: 'no', text: 'Foragers are still leaving.' } } as const;
const cold = { outlook: { text: 'It will be cold.', tooCold: true } } as const;
const bites = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.atCage({ behaviour: 'biting' }),
];
const workers = (day: number): Entries[number] => [
  at(day),
  facts.inspection({ severalEggsACell: true, youngestBrood: 'eggs' }),
];

/** Nobody saw the old queen; in the end eggs on the walls, then single ones on the bottom. */
const queenAmongThem: Entries = [
  [at(0), facts.split({ oldQueen: 'not-seen' })],
  [at(7), facts.cut({}, { youngestBrood: 'sealed-only' })],
  [at(24), facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true, eggsStand: 'walls' })],
  [at(28), facts.inspection({ youngestBrood: 'eggs', eggsStand: 'bottom' })],
];
const frame = (fromDay: number, toDay: number): Entries => [
  [at(fromDay, 11), facts.broodAdded({ asTestFrame: true })],
  [at(toDay, 11), facts.broodTaken({ cellsOnIt: 0 })],
];

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  readonly act: ActKind;
  readonly over?: Setup;
  readonly evidence?: Partial<GateEvidence>;
  readonly options?: PlanOptions;
  /** Null: nothing forbids it on its day. */
  readonly blocked: PlanStep['blocked'] | null;
  readonly offered?: true;
  readonly on?: number;
}
const stepOf = ({ log, now, over, evidence, options, act }: Omit<Row, 'blocked' | 'name'>) =>
  answerFor(stateAt(log, now, over), { ...noEvidence, ...evidence }, options).plan.find(
    ({ kind }) => kind === act,
  );

describe('an act on its day', () => {
  it.each<Row>([
    {
      name: 'in the evening before: what ends with the day does not block it',
      log: [split],
      now: at(6, 22.5),
      act: 'cut-cells',
      evidence: leaving,
      blocked: null,
    },
    {
      name: 'foragers are leaving on its day: until the next',
      log: [split],
      now: at(7, 7),
      act: 'cut-cells',
      evidence: leaving,
      blocked: { answer: 'wait', by: 'The foragers are still leaving', first: [], untilMs: at(8, 0) },
    },
    {
      name: 'the night is too cold for her',
      log: [split, [at(5), facts.arrived()]],
      now: at(5, 11),
      act: 'hang-cage',
      evidence: cold,
      blocked: { answer: 'wait', by: 'Too cold tonight', first: [], untilMs: at(6, 0) },
    },
    {
      name: 'the second look comes first on the morning of that day',
      log: caged,
      now: at(10, 9),
      act: 'open-candy',
      blocked: { answer: 'wait', by: 'Look through every frame again first', first: ['second-look'] },
    },
    { name: 'and on the evening before', log: caged, now: at(9, 23), act: 'open-candy', blocked: null },
    { name: 'and days before', log: caged, now: at(8), act: 'open-candy', blocked: null },
    {
      name: 'bees are to be added first, and its day is twelve hours ahead',
      log: [[at(0), facts.split({ framesOfBees: 1 })]],
      now: at(6, 22),
      act: 'hang-cage',
      over: { expectedQueenMs: at(7) },
      blocked: { answer: 'wait', by: 'Too few bees to keep her warm', first: ['add-bees'] },
    },
    {
      name: 'and a minute more than that',
      log: [[at(0), facts.split({ framesOfBees: 1 })]],
      now: at(6, 22) - 60_000,
      act: 'hang-cage',
      over: { expectedQueenMs: at(7) },
      blocked: null,
    },
    {
      name: 'what stops is said days before',
      log: [...caged, bites(8)],
      now: at(8, 12),
      act: 'open-candy',
      blocked: { answer: 'stop', by: 'The bees bite at the cage', first: ['watch-cage', 'second-look'] },
    },
    {
      name: 'what is done is not blocked',
      log: [...caged, bites(8)],
      now: at(8, 12),
      act: 'hang-cage',
      blocked: null,
    },
    {
      name: 'what is offered and merely early stays offered',
      log: [[at(0), facts.split({ framesOfBees: 1 })]],
      now: at(8, 9),
      act: 'hang-cage',
      over: { expectedQueenMs: at(5) },
      blocked: null,
      offered: true,
    },
    {
      name: 'what is offered and stopped says so',
      log: [split, workers(22), workers(24)],
      now: at(24, 12),
      act: 'hang-cage',
      blocked: { answer: 'stop', by: 'Laying workers', first: ['unite'] },
    },
    {
      name: 'workers lay, and eggs seen since may be a queen’s: a frame tells before the bees are united',
      log: queenAmongThem,
      now: at(28, 12),
      act: 'unite',
      blocked: { answer: 'stop', by: 'A queen may be in the box', first: ['test-frame-in'] },
    },
    {
      name: 'two frames without a cell: the bees are shaken out, wherever she is',
      log: [...queenAmongThem, ...frame(28, 30), ...frame(35, 37)],
      now: at(37, 12),
      act: 'unite',
      blocked: null,
    },
    {
      name: 'one that was let out may be among them: shaking them out is offered all the same',
      log: [...caged, [at(10), facts.cut()], [at(10, 11), facts.opened()], workers(24), workers(28)],
      now: at(28, 12),
      act: 'unite',
      blocked: null,
      offered: true,
    },
  ])('$name', ({ blocked, offered, ...row }) => {
    const step = stepOf(row);
    expect(step).toBeDefined();
    expect(step?.blocked ?? null).toStrictEqual(blocked);
    expect(step?.offered).toBe(offered);
  });
});

describe('what is to be done first', () => {
  it('has a place in the plan, on a day on which somebody can come', () => {
    const log: Entries = [...caged, [at(10), facts.cut()], bites(10, 11)];
    const watch = { log, now: at(10, 12), act: 'watch-cage' } as const;
    expect(stepOf(watch)?.targetMs).toBe(at(11));
    expect(stepOf({ ...watch, options: { unavailable: ['2027-05-12'] } })?.targetMs).toBe(at(12));
  });

  it('is one visit where a look on every frame falls on the day of a search for cells', () => {
    const log: Entries = [...caged, bites(9), bites(10, 9)];
    const row = { log, now: at(10, 9.5) } as const;
    expect(stepOf({ ...row, act: 'look-through' })).toBeUndefined();
    const search = stepOf({ ...row, act: 'second-look' });
    expect(search?.whatToDo).toContain('Look for a virgin, the youngest brood');
    expect(search?.why.map(String).join(' ')).toContain('They bit on two days or more');
    expect(search?.why.map(String).join(' ')).toContain('It finds most of the cells');
    expect(stepOf({ ...row, act: 'open-candy' })?.blocked?.first).toEqual(['second-look', 'second-look']);
    expect(stepOf({ ...row, act: 'check-sealed-brood' })?.whatToDo).not.toContain('Look for a virgin');
  });

  it('names that visit, and what comes first beside it', () => {
    const log: Entries = [
      ...caged,
      [at(10, 9), { kind: 'balled', rescued: true }],
      [at(10, 9.2), facts.hung()],
      bites(10, 9.4),
    ];
    const open = stepOf({ log, now: at(10, 9.5), act: 'open-candy' });
    expect(new Set(open?.blocked?.first)).toEqual(new Set(['second-look', 'watch-cage']));
  });

  it('are two where they fall on two days', () => {
    const log: Entries = [...caged, [at(8), { kind: 'balled', rescued: true }], [at(8, 10.5), facts.hung()]];
    const row = { log, now: at(8, 12) } as const;
    expect(stepOf({ ...row, act: 'look-through' })?.targetMs).toBe(at(8));
    expect(stepOf({ ...row, act: 'second-look' })?.whatToDo).not.toContain('Look for a virgin');
    expect(stepOf({ ...row, act: 'open-candy' })?.blocked?.first).toEqual(['look-through', 'second-look']);
  });

  it('is uniting alone where workers lay: what else would settle it is only offered', () => {
    const row = { log: [split, workers(22), workers(24)], now: at(24, 12) } as const;
    expect(stepOf({ ...row, act: 'unite' })?.offered).toBeUndefined();
    expect(stepOf({ ...row, act: 'look-through' })?.offered).toBe(true);
  });
});

describe('what is brought', () => {
  const bring = (act: ActKind, over: Partial<Row> = {}) =>
    stepOf({ log: caged, now: at(8), act, ...over })?.whatToBring;
  const always = ['veil', 'smoker', 'phone'];

  it('is for the stings and the smoke on every visit, more for cells, and what the act itself needs', () => {
    expect(bring('second-look')).toEqual([...always, 'cell knife', 'torch', 'brush']);
    expect(bring('hang-cage')).toEqual([
      ...always,
      'caged queen, kept warm',
      'line and pin for the cage',
      'tape',
    ]);
    const atHome = bring('queen-arrives', { log: [split], over: { expectedQueenMs: at(9) } });
    expect(atHome).toEqual(['water', 'pencil for the date on the cage']);
  });
});

describe('the chance limit', () => {
  const row = { log: found, now: at(11, 9) } as const;
  const look = (more: Partial<Row>) =>
    stepOf({ ...row, act: 'one-more-look', ...more })
      ?.why.map(String)
      .join(' ');
  const open = (more: Partial<Row>) => stepOf({ ...row, act: 'open-candy', ...more })?.blocked?.by;
  const inPassing = 'The nuc is opened to let her out';
  const asked = 'Chance that a dangerous cell was missed';

  it('is one in twenty where nobody sets it', () => {
    expect([look({}), open({})]).toEqual([expect.stringContaining(asked), 'One more look first']);
  });

  it('counts for the plan and for what is allowed', () => {
    const more = { evidence: { chanceLimit: 0.2 } };
    expect([look(more), open(more)]).toEqual([expect.stringContaining(inPassing), undefined]);
  });

  it('of the plan is its own where both are given', () => {
    const wide = { evidence: { chanceLimit: 0.2 }, options: { chanceLimit: 0.05 } };
    expect([look(wide), open(wide)]).toEqual([expect.stringContaining(asked), undefined]);
    const narrow = { evidence: { chanceLimit: 0.05 }, options: { chanceLimit: 0.2 } };
    expect([look(narrow), open(narrow)]).toEqual([expect.stringContaining(inPassing), 'One more look first']);
  });

  it('of the plan alone allows nothing', () => {
    const more = { options: { chanceLimit: 0.2 } };
    expect([look(more), open(more)]).toEqual([expect.stringContaining(inPassing), 'One more look first']);
  });
});

describe('the cut that comes next, and the one that can be made now', () => {
  const own: Setup = { startingPoint: 'own-laying-queen' };
  const hopeless: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
  const clean: Entries = [...caged, [at(10), facts.cut()]];
  it.each<{
    readonly name: string;
    readonly log: Entries;
    readonly now: number;
    readonly over?: Setup;
    readonly next: ActKind;
    readonly at: ActKind;
  }>([
    { name: 'before day 7', log: [split], now: at(6), next: 'cut-cells', at: 'early-cut' },
    { name: 'as day 7 begins', log: [split], now: at(7, 0), next: 'cut-cells', at: 'cut-cells' },
    { name: 'after the cut', log: caged, now: at(8), next: 'second-look', at: 'second-look' },
    { name: 'after the second look', log: clean, now: at(11), next: 'one-more-look', at: 'one-more-look' },
    { name: 'a queen of one’s own', log: [split], now: at(3), over: own, next: 'cut-cells', at: 'cut-cells' },
    {
      name: 'a queen of one’s own, cut on day 8',
      log: [split, [at(8), facts.cut()]],
      now: at(9),
      over: own,
      next: 'cut-cells',
      at: 'cut-cells',
    },
    { name: 'a hopeless colony', log: [], now: at(0), over: hopeless, next: 'cut-cells', at: 'look-through' },
    {
      name: 'the last egg has no date',
      log: [[at(0), facts.split({ oldQueen: 'not-seen', framesOfOpenBrood: 0 })]],
      now: at(3),
      next: 'cut-cells',
      at: 'cut-cells',
    },
    {
      name: 'a cell was seen after the cut',
      log: [...caged, [at(8), facts.inspection({ cells: cells({ open: 1 }) })]],
      now: at(8, 12),
      next: 'second-look',
      at: 'second-look',
    },
  ])('$name', ({ log, now, over, next, at: act }) => {
    const state = stateAt(log, now, over);
    expect([nextCut(state), cutNow(state, now)]).toEqual([next, act]);
  });
});

describe('how bees with laying workers are given up', () => {
  it.each<{ name: string; log: Entries; paper: boolean }>([
    { name: 'no queen is feared among them', log: [split, workers(22), workers(24)], paper: true },
    { name: 'eggs seen since may be a queen’s', log: queenAmongThem, paper: false },
    {
      name: 'one was let out',
      log: [...caged, [at(10), facts.cut()], [at(10, 11), facts.opened()], workers(24), workers(28)],
      paper: false,
    },
  ])('$name', ({ log, paper }) => {
    const step = stepOf({ log, now: at(28, 12), act: 'unite' });
    expect(step?.whatToBring.includes('newspaper')).toBe(paper);
    expect(/or unite them with it over paper/.test(String(step?.whatToDo))).toBe(paper);
  });
});
