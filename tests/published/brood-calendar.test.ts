/**
 * The brood calendar against what is published. Sources: Mussen et al. 1987, Beekeeping in California (egg 3 d; adult
 * queen 16, worker 21, drone 24 d); Fell & Morse 1984, Insectes Sociaux (13 colonies, 268 cells: ages of larvae, first
 * cells 12-48 h, loss noticed 6-12 h, 11-49 cells, mean 20.4, new ones as late as day 8-9); Akongte et al. 2022
 * (grafting at 12-24 h). Days 7, 10, 3 and a week are common practice, without a source.
 */
import { describe, expect, it } from 'vitest';
import {
  droneEmergesDays,
  eggStageDays,
  graftingAgeDays,
  queenEmergesDays,
  rearableLimitDays,
  workerEmergesDays,
} from '../../server/biology/brood-figures.ts';
import {
  cellsPerColony,
  firstCellsHours,
  firstVirginDays,
  lastCellsDays,
  lossNoticedHours,
  startedOverLarvae,
} from '../../server/biology/emergency-cell-figures.ts';
import { firstCutDay, handsOffDays, secondLookAfterDays } from '../../server/biology/practice-figures.ts';
import { mayOpenCandy } from '../../server/introduction/gates/open-candy.ts';
import { noEvidence } from '../../server/introduction/gates/gate.ts';
import { at, cleanEntries, facts, stateAt } from '../introduction/support/field-log.ts';

const dayMs = 86_400_000;

describe('development (Mussen et al. 1987)', () => {
  it.each([
    ['egg', eggStageDays, 3],
    ['queen', queenEmergesDays, 16],
    ['worker', workerEmergesDays, 21],
    ['drone', droneEmergesDays, 24],
  ])('%s', (_what, figure, days) => {
    expect(figure.value).toBe(days);
    expect(figure.low ?? days).toBeLessThanOrEqual(days);
    expect(figure.high ?? days).toBeGreaterThanOrEqual(days);
  });
});

describe('emergency cells (Fell & Morse 1984)', () => {
  it('starts them over larvae of up to two, three and four days in the published shares', () => {
    expect(startedOverLarvae.map(({ toDays, share }) => [toDays, share.value])).toEqual([
      [2, 0.647],
      [3, 0.253],
      [4, 0.1],
    ]);
    expect(startedOverLarvae.reduce((sum, { share }) => sum + share.value, 0)).toBeCloseTo(1, 9);
  });

  it('notices the loss, starts the first cells and the last ones when they did', () => {
    expect([lossNoticedHours.low, lossNoticedHours.high]).toEqual([6, 12]);
    expect([firstCellsHours.low, firstCellsHours.high]).toEqual([12, 48]);
    expect(lastCellsDays.high).toBe(9);
    expect([cellsPerColony.low, cellsPerColony.value, cellsPerColony.high]).toEqual([11, 20.4, 49]);
  });

  it('leaves nothing to raise a queen from when the last egg’s larva is four days old', () => {
    // The oldest larva that they used was four days old: 3 d of egg and 4 d of larva.
    expect(rearableLimitDays.value).toBe(3 + 4);
  });

  it('lets the first virgin out by the oldest larva that is used', () => {
    // 16 − (3 + larval age), larval age 4: day 9; half a day less in a warm nest (common practice).
    expect(firstVirginDays.value).toBe(16 - (3 + 4));
    expect(firstVirginDays.low).toBe(8.5);
  });
});

it('grafts larvae of 12 to 24 hours (Akongte et al. 2022)', () => {
  expect(graftingAgeDays.low).toBe(3 + 0.5);
  expect(graftingAgeDays.high).toBe(3 + 1);
});

describe('the days of common practice', () => {
  it('are 7, three days later, three full days at least and a week by preference', () => {
    expect(firstCutDay.value).toBe(7);
    expect(firstCutDay.value + secondLookAfterDays.value).toBe(10);
    expect([handsOffDays.low, handsOffDays.value]).toEqual([3, 7]);
  });

  it('are the days that the windows and the gate come to', () => {
    const state = stateAt([[at(0), facts.split()]], at(1));
    const { rearableLarvae, virginPossible } = state.windows;
    expect((rearableLarvae!.untilMs - at(0)) / dayMs).toBe(7);
    expect((virginPossible!.fromMs - at(0)) / dayMs).toBe(8.5);
    const open = (nowMs: number) =>
      mayOpenCandy(
        stateAt(
          cleanEntries.filter(([t]) => t <= nowMs),
          nowMs,
        ),
        noEvidence,
        nowMs,
      ).answer;
    expect([at(6), at(7, 11), at(9), at(10, 10.2)].map(open)).toEqual(['wait', 'wait', 'wait', 'go']);
  });
});
