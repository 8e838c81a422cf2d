/** What becomes of swarm cells of every age, against the even spread of their ages (twelve ages stand for all). */
import { describe, expect, it } from 'vitest';
import { developmentMs } from '../../server/biology/duration.ts';
import { highEnd, lowEnd, queenEmergesDays, swarmCellAgeDays } from '../../server/biology/figures.ts';
import {
  cellFates,
  firstVirginMs,
  type Fate,
  type Wave,
} from '../../server/introduction/cells/cell-fates.ts';

const fromMs = Date.UTC(2026, 4, 10, 9);
const after = (days: number): number => fromMs + developmentMs(days);
const swarm: Wave = { fromMs, after: 'swarm', eggMs: fromMs, weight: 3 };
const [youngest, oldest] = [lowEnd(swarmCellAgeDays), highEnd(swarmCellAgeDays)];
/** Days after which the first and the last virgin emerge. */
const [firstDays, lastDays] = [queenEmergesDays.value - oldest, queenEmergesDays.value - youngest];
/** One age of twelve. */
const step = 1 / 12;

const within = (share: number): number => Math.min(1, Math.max(0, share));
const emergedBy = (days: number): number => within((days - firstDays) / (lastDays - firstDays));
const shareOf = (fates: readonly Fate[], is: (fate: Fate) => boolean): number =>
  fates.filter(is).reduce((sum, { weight }) => sum + weight, 0) / swarm.weight;
const closeTo = (share: number, expected: number): void => {
  expect(Math.abs(share - expected)).toBeLessThanOrEqual(step / 2 + 1e-9);
};
const middle = (firstDays + lastDays) / 2;

describe('swarm cells that stood already', () => {
  it('are all there, and none is torn down', () => {
    const fates = cellFates([swarm], [after(0)]);
    expect(shareOf(fates, () => true)).toBeCloseTo(1, 9);
    expect(shareOf(fates, ({ ends }) => ends !== 'virgin')).toBe(0);
    expect(shareOf(fates, ({ first, end }) => first === 0 && end === 1)).toBeCloseTo(1, 9);
  });

  it.each([firstDays - 1, firstDays + 1, middle, lastDays - 1, lastDays + 1])(
    'stand by the share of those that have not opened, %d days later',
    (days) => {
      const fates = cellFates([swarm], [after(days)]);
      closeTo(
        shareOf(fates, ({ end }) => end === 1),
        1 - emergedBy(days),
      );
    },
  );

  it.each([0, 1, (oldest - youngest) / 2, oldest - youngest + 1])(
    'were begun before, the oldest first: %d days earlier',
    (days) => {
      const fates = cellFates([swarm], [after(-days)]);
      closeTo(
        shareOf(fates, ({ first }) => first === 0),
        within(1 - days / (oldest - youngest)),
      );
    },
  );

  it('open first where the oldest does', () => {
    const days = (firstVirginMs([swarm]) - fromMs) / developmentMs(1);
    expect(days).toBeCloseTo(firstDays + (lastDays - firstDays) * (step / 2), 6);
  });
});

describe('what is known of virgins that are out', () => {
  const [early, late] = [
    firstDays + (lastDays - firstDays) / 3,
    firstDays + (2 * (lastDays - firstDays)) / 3,
  ];
  it.each([
    { name: 'nothing', noneDays: -99, settledDays: -99, settled: 0, excluded: 0 },
    { name: 'one was taken away', noneDays: -99, settledDays: late, settled: 2 / 3, excluded: 0 },
    { name: 'none was loose', noneDays: late, settledDays: -99, settled: 0, excluded: 2 / 3 },
    {
      name: 'one was taken away, then none was loose',
      noneDays: late,
      settledDays: early,
      settled: 1 / 3,
      excluded: 1 / 3,
    },
    {
      name: 'none was loose, then one was taken away',
      noneDays: early,
      settledDays: late,
      settled: 1 / 3,
      excluded: 1 / 3,
    },
    { name: 'both at once', noneDays: late, settledDays: late, settled: 2 / 3, excluded: 0 },
  ])('$name', ({ noneDays, settledDays, settled, excluded }) => {
    const known = { noneAtMs: after(noneDays), settledAtMs: after(settledDays) };
    const fates = cellFates([swarm], [], known);
    closeTo(
      shareOf(fates, ({ ends }) => ends === 'settled'),
      settled,
    );
    closeTo(
      shareOf(fates, ({ ends }) => ends === 'excluded'),
      excluded,
    );
    closeTo(
      shareOf(fates, ({ ends }) => ends === 'virgin'),
      1 - settled - excluded,
    );
  });
});
