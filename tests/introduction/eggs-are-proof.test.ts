/**
 * Eggs, one on the bottom of a cell, show that she is there: nobody need find her (common practice). An egg hatches after three
 * days, at most three and a half (Mussen et al. 1987): so long after the loss or a frame they may be another queen's.
 */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { goodToKnow } from '../../server/introduction/acts/good-to-know.ts';
import { dayNumber } from '../../server/introduction/calendar.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { stageWords } from '../../server/introduction/stage-words.ts';
import type { IntroductionSetup } from '../../server/introduction/state.ts';
import { at, cleanEntries, facts, stateAt, zone } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];
const opened: Entries = [...cleanEntries, [at(10, 11), facts.opened()]];
const eggs = (over: Parameters<typeof facts.inspection>[0] = {}): FactPayload =>
  facts.inspection({ youngestBrood: 'eggs', everyFrameChecked: false, beesShakenOff: false, ...over });
const dueOn = (log: Entries, day: number, over: Partial<IntroductionSetup> = {}): readonly string[] => {
  const state = stateAt(log, at(day, 18), over);
  return answerFor(state)
    .plan.filter(({ done, blocked, offered }) => !(done ?? blocked ?? offered))
    .map(({ kind, targetMs }) => `${kind} ${String(dayNumber(at(0), targetMs, zone))}`);
};

describe('eggs seen at an inspection, and not the queen', () => {
  it.each([3, 5, 8, 14])(
    'on day %i after the candy was opened are hers: her sealed brood is looked at next',
    (days) => {
      const log: Entries = [...opened, [at(10 + days, 12), eggs()]];
      const state = stateAt(log, at(10 + days, 18));
      expect(state.stage).toBe('accepted');
      expect(state.queen.firstEggsAtMs).toBe(at(10 + days, 12));
      // Sealed nine days after the egg (survey), looked at the day after.
      expect(dueOn(log, 10 + days)).toEqual([`check-sealed-brood ${String(10 + days + 10)}`]);
    },
  );

  it('tell what a look for her would tell, seen or not', () => {
    const day = at(18);
    const looked: Entries = [...opened, [day, facts.looked({ queenSeen: false })]];
    const inspected: Entries = [...opened, [day, eggs()]];
    expect(dueOn(inspected, 19)).toEqual(dueOn(looked, 19));
  });

  it('show that one is there after all that two looks missed', () => {
    const missed = facts.looked({ queenSeen: false, eggsSeen: false });
    const log: Entries = [...opened, [at(17), missed], [at(21), missed], [at(22), eggs()]];
    expect(stateAt(log, at(22, 12)).queen).toMatchObject({ where: 'released', notFoundAtMs: [] });
    expect(stateAt(log, at(22, 12)).stage).toBe('accepted');
  });

  it.each<[string, Parameters<typeof facts.inspection>[0]]>([
    ['several in a cell', { severalEggsACell: true }],
    ['on the walls', { eggsStand: 'walls' }],
  ])('are no proof where they stand as workers lay them: %s', (_, over) => {
    expect(stateAt([...opened, [at(18), eggs(over)]], at(18, 12)).queen.firstEggsAtMs).toBeNull();
  });

  it('are not hers while she is in her cage as a rule', () => {
    const log: Entries = [...opened, [at(11, 12), eggs()]];
    expect(stateAt(log, at(11, 13)).queen.firstEggsAtMs).toBeNull();
    expect(stateAt(log, at(11, 13)).stage).toBe('candy-open');
  });

  it('do not hide a virgin that was seen beside them', () => {
    const state = stateAt([...opened, [at(18), eggs({ virginSeen: true })]], at(18, 12));
    expect(stageWords(state).name).toBe('a virgin is in it');
  });
});

describe('eggs that may be another’s', () => {
  const frame: FactPayload = facts.broodAdded();
  const seen = (day: number): Entries[] => [
    [...opened, [at(16), frame], [at(day), eggs()]],
    [...opened, [at(16), frame], [at(day), facts.looked({ queenSeen: false })]],
  ];

  it('came with a frame within the time of an egg: she is looked for again, and what was seen is said', () => {
    for (const log of seen(18)) {
      const state = stateAt(log, at(18, 12));
      expect(state.queen.firstEggsAtMs).toBeNull();
      const again = answerFor(state).plan.find(({ kind }) => kind === 'look-again');
      expect(String(again?.why)).toContain('may have come with a frame, or be those of the queen before');
    }
  });

  it('are hers again once every egg of the frame has hatched', () => {
    for (const log of seen(20)) expect(stateAt(log, at(20, 12)).stage).toBe('accepted');
  });

  it('are the old queen’s where she was taken three days before', () => {
    const own: Partial<IntroductionSetup> = { startingPoint: 'own-laying-queen', method: 'push-in-cage' };
    const log = (day: number): Entries => [
      [at(0), facts.split()],
      [at(0, 11), facts.hung()],
      [at(1), { kind: 'cage-taken-out', queen: 'left-in-nuc' }],
      [at(day), facts.looked({ queenSeen: false })],
    ];
    expect(stateAt(log(3), at(3, 12), own).queen.firstEggsAtMs).toBeNull();
    expect(stateAt(log(5), at(5, 12), own).queen.firstEggsAtMs).toBe(at(5));
  });
});

it('who looks for her is told that eggs are enough', () => {
  const notes = goodToKnow('look-for-queen', 'candy-cage').map(({ text }) => text);
  expect(notes).toContain('Eggs, one in a cell, are proof enough: she need not be found.');
});
