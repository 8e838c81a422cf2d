/** `welcomb advise` answers each line on its own, in the words of the gates and the plan. */
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { adviseCommand } from '../../server/commands/advise.ts';
import { readQuestion } from '../../server/commands/advise-input.ts';
import { CommandRefused } from '../../server/commands/command-line.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { welcomb } from '../support/command.ts';

const example = join(import.meta.dirname, '../../server/manual/advise-example.jsonl');

interface Answer {
  readonly line: number;
  readonly stage?: string;
  readonly due?: readonly string[];
  readonly chance?: number | null;
  readonly gates?: readonly {
    readonly gate: string;
    readonly answer: string;
    readonly reasons: readonly { readonly text: string }[];
  }[];
  readonly errors?: readonly { readonly field: string; readonly text: string }[];
}

async function advise(file: string): Promise<{ readonly code: number; readonly answers: readonly Answer[] }> {
  const answers: Answer[] = [];
  const code = await adviseCommand.run([file], {
    env: {},
    nowMs: () => 0,
    say: (line) => answers.push(JSON.parse(line) as Answer),
    askSecret: () => Promise.resolve(''),
  });
  return { code, answers };
}

async function adviseOn(
  ...lines: readonly (string | object)[]
): Promise<{ readonly code: number; readonly answers: readonly Answer[] }> {
  const file = join(temporaryFolder(), 'questions.jsonl');
  writeFileSync(
    file,
    lines.map((line) => (typeof line === 'string' ? line : JSON.stringify(line))).join('\n'),
  );
  return advise(file);
}

const answerOf = (answer: Answer | undefined, gate: string): string | undefined =>
  answer?.gates?.find((one) => one.gate === gate)?.answer;

const split = {
  happenedAt: '2027-05-01T10:00:00Z',
  fact: {
    kind: 'split-made',
    framesOfBees: 3,
    framesOfSealedBrood: 2,
    framesOfOpenBrood: 1,
    framesOfStores: 1,
    oldQueen: 'seen-in-parent',
    cellsAlreadyThere: 'none',
  },
};
const cut = (happenedAt: string, over: object = {}): object => ({
  happenedAt,
  fact: {
    kind: 'cells-cut',
    cells: { open: 0, sealed: 0 },
    everyFrameChecked: true,
    beesShakenOff: true,
    ...over,
  },
});
const question = (over: object = {}): object => ({
  setup: { startingPoint: 'planned-split' },
  log: [split],
  now: '2027-05-08T09:00:00Z',
  ...over,
});

describe('the example of the guide', () => {
  test('is answered: cells cut on day 7, candy on day 10, no queen where workers lay', async () => {
    const { code, answers } = await advise(example);
    expect(code).toBe(0);
    expect(answers.map(({ line }) => line)).toEqual([1, 2, 3]);
    const [day7, day10, layingWorkers] = answers;
    expect(answerOf(day7, 'cut-cells')).toBe('go');
    expect(day7?.due).toContain('cut-cells');
    expect(answerOf(day7, 'open-candy')).toBe('wait');
    expect(answerOf(day10, 'open-candy')).toBe('go');
    expect(day10?.due).toContain('open-candy');
    expect(day10?.chance).toBeGreaterThan(0);
    expect(day10?.chance).toBeLessThan(0.05);
    expect(answerOf(layingWorkers, 'hang-cage')).toBe('stop');
    for (const { gates = [] } of answers)
      for (const { reasons } of gates)
        for (const { text } of reasons) expect(text).toMatch(/^[A-Z].*[.!?]$/s);
  });

  test('reads the same from a pipe', async () => {
    const piped = await welcomb(['advise'], { input: readFileSync(example, 'utf8') });
    expect(piped).toEqual(await welcomb(['advise', example]));
    expect(piped).toMatchObject({ code: 0, err: '' });
    expect(piped.out.trim().split('\n')).toHaveLength(3);
  });
});

test('one log is asked day by day: what lies after the instant is left out', async () => {
  const log = [split, cut('2027-05-08T10:00:00Z', { cells: { sealed: 3 } }), cut('2027-05-11T10:00:00Z')];
  const { answers } = await adviseOn(
    ...['2027-05-02', '2027-05-09', '2027-05-12'].map((day) => question({ log, now: `${day}T09:00:00Z` })),
  );
  expect(answers.map(({ stage }) => stage)).toEqual([
    'foragers-leaving',
    'second-look-due',
    'waiting-for-queen',
  ]);
});

test('what waits until tomorrow is not overdue today, though its days are over', async () => {
  const half = cut('2027-05-12T10:00:00Z', { cells: { sealed: 2 }, everyFrameChecked: false });
  const { answers } = await adviseOn(
    question({ log: [split, half], now: '2027-05-12T11:00:00Z' }),
    question({ log: [split, half], now: '2027-05-13T11:00:00Z' }),
  );
  for (const answer of answers)
    if (answerOf(answer, 'cut-cells') !== 'go') expect(answer.due).not.toContain('cut-cells');
});

test('what an introduction before left behind counts', async () => {
  const before = {
    setup: { startingPoint: 'planned-split' },
    log: [
      split,
      {
        happenedAt: '2027-05-09T10:00:00Z',
        fact: {
          kind: 'inspection',
          youngestBrood: 'eggs',
          cells: {},
          everyFrameChecked: true,
          beesShakenOff: true,
          severalEggsACell: true,
        },
      },
      { happenedAt: '2027-05-09T11:00:00Z', fact: { kind: 'outcome', outcome: 'given-up' } },
    ],
  };
  const next = question({
    setup: { startingPoint: 'hopelessly-queenless' },
    log: [
      {
        happenedAt: '2027-05-10T10:00:00Z',
        fact: { kind: 'queen-arrived', queenId: 'two', condition: 'alive' },
      },
    ],
    now: '2027-05-10T12:00:00Z',
  });
  const { answers } = await adviseOn({ ...next, before });
  expect(answerOf(answers[0], 'hang-cage')).toBe('stop');
});

describe('a line that can’t be used', () => {
  const later = { ...split, happenedAt: '2027-05-03T10:00:00Z' };
  test.each([
    { line: '{"setup":', field: '', says: /Line 1: it is not JSON: write one object/ },
    { line: '['.repeat(100), field: '', says: /nested too deep/ },
    { line: {}, field: 'setup', says: /Line 1, setup: / },
    {
      line: question({ setup: { startingPoint: 'swarm' } }),
      field: 'setup.startingPoint',
      says: /planned-split/,
    },
    {
      line: question({ setup: { startingPoint: 'planned-split', timeZone: 'Mars/Olympus' } }),
      field: 'setup.timeZone',
      says: /Europe\/Berlin/,
    },
    {
      line: question({ setup: { startingPoint: 'planned-split', colour: 'blue' } }),
      field: 'setup',
      says: /colour/,
    },
    { line: question({ now: '2027-05-08' }), field: 'now', says: /a time such as/ },
    {
      line: question({ log: [{ fact: split.fact }] }),
      field: 'log.0.happenedAt',
      says: /say when it happened/,
    },
    {
      line: question({ log: [split, cut('2027-05-08T10:00:00Z', { cells: { open: -1 } })] }),
      field: 'log.1.fact.cells.open',
      says: /can't be negative/,
    },
    {
      line: question({ log: [cut('2027-05-08T10:00:00Z')] }),
      field: 'log.0',
      says: /split is not logged yet/,
    },
    { line: question({ log: [split, later] }), field: 'log.1', says: /A split is logged already/ },
    {
      line: question({
        log: [
          { ...split, id: 'same-entry' },
          { ...cut('2027-05-08T10:00:00Z'), id: 'same-entry' },
        ],
      }),
      field: 'log.1.id',
      says: /give each its own/,
    },
  ])('names the field $field and what to do', async ({ line, field, says }) => {
    const { code, answers } = await adviseOn(line);
    expect(code).toBe(1);
    const [first] = answers[0]?.errors ?? [];
    expect(first?.field).toBe(field);
    expect(first?.text).toMatch(says);
    expect(first?.text).toMatch(/Put it right and ask again\.$/);
  });

  test('does not keep the others from their answers', async () => {
    const { code, answers } = await adviseOn(question(), 'no question', '', question());
    expect(code).toBe(1);
    expect(answers.map(({ line, errors }) => [line, errors === undefined])).toEqual([
      [1, true],
      [2, false],
      [4, true],
    ]);
  });

  test('never throws, whatever stands in it', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.json(),
          fc
            .record({ setup: fc.anything(), log: fc.array(fc.anything()), now: fc.anything() })
            .map((value) => JSON.stringify(value)),
        ),
        (line) => {
          const read = readQuestion(line);
          if (!read.ok) expect(read.faults.length).toBeGreaterThan(0);
        },
      ),
    );
  });
});

test('a file that is not there, and two files, are refused', async () => {
  await expect(advise('no-such-file.jsonl')).rejects.toThrow(CommandRefused);
  await expect(
    adviseCommand.run(['one', 'two'], {
      env: {},
      nowMs: () => 0,
      say: () => undefined,
      askSecret: () => Promise.resolve(''),
    }),
  ).rejects.toThrow(/one file/);
});

test('a file with a mark of the byte order before it, or with lines that end as on other systems, is read', async () => {
  const [first] = readFileSync(example, 'utf8').split('\n');
  const file = join(temporaryFolder(), 'questions.jsonl');
  writeFileSync(file, `\uFEFF${first ?? ''}\r\n${first ?? ''}\r\n`);
  const { code, answers } = await advise(file);
  expect(code).toBe(0);
  expect(answers.map(({ line }) => line)).toEqual([1, 2]);
});

test('a pipe that has a name is read like a file, and a folder is none', async () => {
  const folder = temporaryFolder();
  const pipe = join(folder, 'pipe');
  execFileSync('sh', ['-c', 'mkfifo "$0"', pipe]);
  const [{ code, answers }] = await Promise.all([
    advise(pipe),
    writeFile(pipe, readFileSync(example, 'utf8')),
  ]);
  expect([code, answers.length]).toEqual([0, 3]);
  await expect(advise(folder)).rejects.toThrow(`${folder} can't be read: it is a folder.`);
});
