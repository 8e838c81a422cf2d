/** What a look for cells, eggs or a virgin misses, and what it can still tell. */
import { assumed, type Figure } from './figure.ts';

/** Share of standing cells that a look on every frame, bees shaken off, misses: mean of the prior. */
export const missedCellShare: Figure = {
  value: 0.09,
  low: 0,
  high: 0.26,
  unit: '1',
  source: 'nobody states it: a wide prior, learnt from the keeper’s own second looks',
  basis: 'assumed',
};

/**
 * Cells are not alike: one in a corner of the comb or under a cluster of bees is missed more often. The odds of missing it
 * as a multiple, with its share of the cells; 1 on average. Nobody states it.
 */
export const hiddenCells: readonly { readonly odds: number; readonly share: number }[] = [
  { odds: 0.75, share: 0.75 },
  { odds: 1.75, share: 0.25 },
];

/** Share of the cells that a look covers which was not on every frame, where nobody counted the frames left out. */
export const unfinishedCutShare = assumed(
  0.5,
  '1',
  'A cut that leaves frames out: half of the cells may hang on those',
  0.3,
  0.8,
);

/** Share of the cells that a look covers where the bees were not shaken off. */
export const unshakenLookShare = assumed(
  0.7,
  '1',
  'A cell under a cluster of bees is the one that is missed',
  0.5,
  0.9,
);

/** A virgin that walks free is noticed by a look for cells. */
export const virginNoticedShare: Figure = {
  value: 0.15,
  low: 0.05,
  high: 0.4,
  unit: '1',
  source: 'nobody states it: a virgin is small, runs and hides; most looks for cells miss her',
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

/** Eggs that workers lay which a look on every frame does not find. */
export const workerEggsMissedShare = assumed(
  0.05,
  '1',
  'They lie in many cells of many frames, and at first in few: hardly missed where every frame is looked through',
  0.01,
  0.15,
);

/** The same for the sealed drone brood in worker cells that comes of them. */
export const droneCappingsMissedShare = assumed(
  0.1,
  '1',
  'Domed cappings over worker cells stand out, so that few looks miss them beside the eggs',
  0.02,
  0.3,
);
