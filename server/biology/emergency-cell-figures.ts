/** What a colony does when it has lost its queen. Days of 24 hours from the loss unless a name says otherwise. */
import { assumed, type Figure } from './figure.ts';

const fellMorse = 'Fell and Morse 1984, Insectes Sociaux (13 colonies, 268 cells)';

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

/** Colonies whose workers lay and that start queen cells on a frame of young brood all the same. */
export const layingWorkersStartCellsShare = assumed(
  0.2,
  '1',
  'Bees with laying workers seldom start queen cells on the first frame that they are given: common practice',
  0.05,
  0.5,
);

/** Nobody knows since when a hopeless nuc has no queen: not longer than this. */
export const hopelessForDays = assumed(
  42,
  'd',
  'By then the last of her bees are three weeks old, and the nuc is too weak to be worth a queen',
  35,
  60,
);

/** Cells that bees start anew after a cut, while larvae are left, for one of the first wave. */
export const startedAgainShare: Figure = {
  value: 0.4,
  low: 0.2,
  high: 1,
  unit: '1',
  source: 'nobody states it: fewer than at first, as fewer larvae are left',
  basis: 'assumed',
};

/** How far one colony lies from that: as a multiple, with its share of the colonies. Nobody states it. */
export const startedAgainSpread: readonly { readonly times: number; readonly share: number }[] = [
  { times: 0.4, share: 0.3 },
  { times: 1, share: 0.45 },
  { times: 1.75, share: 0.25 },
];

/** Swarm cells that a split gets where any stood. */
export const swarmCellsAtSplit = assumed(
  10,
  'cells',
  'A colony has swarm cells by the dozen or fewer',
  3,
  25,
);

/** Age, from laying, of a swarm cell that stands when the bees lose their queen: from the hatching of its egg to ripe. */
export const swarmCellAgeDays: Figure = {
  value: 9,
  low: 3,
  high: 15.5,
  unit: 'd',
  source:
    'from the days of a queen: the cell is drawn from day 3 on, when the egg hatches, and the queen emerges on day 16',
  basis: 'derived',
};

/** Splits in which swarm cells stand where nobody looked for them. */
export const swarmCellsUnlookedShare = assumed(
  0.2,
  '1',
  'Most colonies that are split have none; in the weeks of swarming every fifth or so',
  0.05,
  0.5,
);

/** Where the old queen was not seen at the split, she is most often in the parent colony. */
export const lostAtSplitShare = assumed(
  0.8,
  '1',
  'She is on the brood frames that stay more often than on those that go',
  0.6,
  0.95,
);

interface Start {
  readonly day: number;
  readonly share: number;
}

/**
 * Days from the loss at which cells are started, with the share of them. Fell and Morse 1984: first at 12-48 h, most
 * standing by day 3-4, new ones as late as day 8-9; the shares between are assumed.
 */
export const startsAfterLoss: readonly Start[] = [
  { day: 0.75, share: 0.13 },
  { day: 1.25, share: 0.2 },
  { day: 1.75, share: 0.2 },
  { day: 2.5, share: 0.2 },
  { day: 3.5, share: 0.12 },
  { day: 4.5, share: 0.07 },
  { day: 5.5, share: 0.05 },
  { day: 6.5, share: 0.02 },
  { day: 7.1, share: 0.01 },
];

/** The same after a cut, or on a frame brought in: assumed, the first within hours. */
export const startsAgain: readonly Start[] = [
  { day: 0.15, share: 0.005 },
  { day: 0.3, share: 0.01 },
  { day: 0.5, share: 0.035 },
  { day: 0.75, share: 0.07 },
  { day: 1.1, share: 0.18 },
  { day: 1.6, share: 0.2 },
  { day: 2.2, share: 0.15 },
  { day: 3, share: 0.2 },
  { day: 4.5, share: 0.15 },
];

/** Slow, usual and fast queens: days from the ends of the published spread (15-17 d), and assumed shares. */
export const queenSpeeds: readonly { readonly insideDays: number; readonly share: number }[] = [
  { insideDays: 0.25, share: 0.2 },
  { insideDays: 1, share: 0.6 },
  { insideDays: 1.75, share: 0.2 },
];

/** Spread of the number of cells from colony to colony, as the shape of a gamma: about 11-49 around the mean (Fell and Morse 1984). */
export const cellNumberShape = assumed(3, '1', 'Shape of the gamma that gives 11-49 cells around 20');

/** The same for swarm cells. */
export const swarmCellNumberShape = assumed(2, '1', 'Shape of the gamma that gives 3-25 cells around 10');
