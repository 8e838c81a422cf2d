/** What a colony does when it has lost its queen. Days of 24 hours from the loss unless a name says otherwise. */
import type { Figure } from './figure.ts';

const fellMorse = 'Fell and Morse 1984, Insectes Sociaux (13 colonies, 268 cells)';

export const lossNoticedHours: Figure = {
  value: 9,
  low: 6,
  high: 12,
  unit: 'h',
  source: fellMorse,
  basis: 'published',
};

export const firstCellsHours: Figure = {
  value: 24,
  low: 12,
  high: 48,
  unit: 'h',
  source: fellMorse,
  basis: 'published',
};

export const mostCellsByDays: Figure = {
  value: 3.5,
  low: 3,
  high: 4,
  unit: 'd',
  source: fellMorse,
  basis: 'published',
};

export const lastCellsDays: Figure = {
  value: 8.5,
  low: 8,
  high: 9,
  unit: 'd',
  source: fellMorse,
  basis: 'published',
};

export const cellsPerColony: Figure = {
  value: 20.4,
  low: 11,
  high: 49,
  unit: 'cells',
  source: fellMorse,
  basis: 'published',
};

/** Share of cells that were started over larvae of each age; under 1 % over eggs. */
export const startedOverLarvae: readonly {
  readonly fromDays: number;
  readonly toDays: number;
  readonly share: Figure;
}[] = [
  {
    fromDays: 0,
    toDays: 2,
    share: { value: 0.647, unit: '1', source: fellMorse, basis: 'published' },
  },
  {
    fromDays: 2,
    toDays: 3,
    share: { value: 0.253, unit: '1', source: fellMorse, basis: 'published' },
  },
  {
    fromDays: 3,
    toDays: 4,
    share: { value: 0.1, unit: '1', source: fellMorse, basis: 'published' },
  },
];

/** Emergency cells that workers tear down again. */
export const tornDownShare: Figure = {
  value: 0.53,
  unit: '1',
  source: 'Hatch, Tarpy and Fletcher 1999',
  basis: 'seen-quoted',
};

/** Shortest time from the start of a cell to the virgin: the oldest larva that is still taken, in a warm nest. */
export const shortestCellDays: Figure = {
  value: 8,
  low: 8,
  high: 9,
  unit: 'd',
  source:
    'queen 15-16 d from laying, less a larva of 4 d (7 d from laying); rare: 91 % of the queens that emerged were eggs at the loss (Punnett and Winston 1983, Insectes Soc. 30:376)',
  basis: 'derived',
};

/** First virgin possible after a sudden loss. */
export const firstVirginDays: Figure = {
  value: 9,
  low: 8.5,
  high: 16,
  unit: 'd',
  source:
    '16 − (3 + age of the larva), oldest larva 4 d; half a day earlier in a warm nest. The earliest possible: 91 % of the queens that emerged were eggs at the loss (Punnett and Winston 1983, Insectes Soc. 30:376)',
  basis: 'derived',
};

/** How long workers need to answer a frame of eggs and young larvae with cells. */
export const testFrameDays: Figure = {
  value: 2,
  low: 1,
  high: 3,
  unit: 'd',
  source: `${fellMorse}: first cells 12-48 h after the loss`,
  basis: 'derived',
};

/** Days without a queen after which laying workers are to be watched for. */
export const layingWorkersWatchDays: Figure = {
  value: 21,
  low: 21,
  high: 23,
  unit: 'd',
  source: 'common practice: more than 21 d queenless; other races (A. cerana, some African ones) sooner',
  basis: 'common-practice',
};

export const layingWorkersLikelyDays: Figure = {
  value: 28,
  low: 23,
  high: 30,
  unit: 'd',
  source: 'Miller and Ratnieks 2001, Insectes Soc. 48:178 (four-week course); 23-30 d from memory',
  basis: 'from-memory',
};

/** Share of standing cells that a look on every frame, bees shaken off, misses: mean of the prior. */
export const missedCellShare: Figure = {
  value: 0.09,
  low: 0,
  high: 0.26,
  unit: '1',
  source: 'nobody states it: a wide prior, learnt from the keeper’s own second looks',
  basis: 'assumed',
};

/** How long the shell of an emerged cell can still be told for what it is. */
export const emergedShellDays: Figure = {
  value: 2,
  low: 0,
  high: 4,
  unit: 'd',
  source: 'nobody states it: workers clear shells away within days, some at once',
  basis: 'assumed',
};

/** Cells that bees start anew after a cut, while larvae are left, for one of the first wave. */
export const startedAgainShare: Figure = {
  value: 0.4,
  low: 0.2,
  high: 1,
  unit: '1',
  source: 'nobody states it: fewer than at first, as fewer larvae are left',
  basis: 'assumed',
};

/** Swarm cells that a colony has where any stood at the split. */
export const swarmCellsAtSplit: Figure = {
  value: 10,
  low: 3,
  high: 25,
  unit: 'cells',
  source: 'nobody states it; by the dozen or fewer is common practice',
  basis: 'assumed',
};

/** How long before the split a swarm cell that stands at it may have been begun: from just now to ripe. */
export const swarmCellAgeDays: Figure = {
  value: 6,
  low: 1,
  high: 10,
  unit: 'd',
  source:
    'from the days of a queen: the cell is drawn from day 3 on, when the egg hatches, and the queen emerges on day 16',
  basis: 'derived',
};

/** A virgin that walks free is noticed by a look for cells. */
export const virginNoticedShare: Figure = {
  value: 0.15,
  low: 0.05,
  high: 0.4,
  unit: '1',
  source: 'nobody states it: a virgin is small, runs and hides; most looks for cells miss her',
  basis: 'assumed',
};
