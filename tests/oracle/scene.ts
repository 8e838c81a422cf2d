/** Where a random history begins: how the nuc came about, and on which days the keeper means to come. */
import { Temporal } from 'temporal-polyfill';
import type { IntroductionSetup } from '../../server/introduction/state.ts';
import { Colony } from './colony.ts';
import { dice, type Dice } from './dice.ts';
import { Keeper } from './keeper.ts';

const day = 86_400_000;
const hour = 3_600_000;
const zones = ['UTC', 'Europe/Berlin', 'America/St_Johns', 'Australia/Lord_Howe'] as const;

export type Kind =
  | 'clean'
  | 'early'
  | 'late'
  | 'any-days'
  | 'swarm-cells'
  | 'brood-added'
  | 'queen-not-seen'
  | 'queenless-with-cells'
  | 'hopeless'
  | 'own-queen';

const kinds: readonly [Kind, ...Kind[]] = [
  'clean',
  'clean',
  'clean',
  'early',
  'late',
  'any-days',
  'swarm-cells',
  'brood-added',
  'queen-not-seen',
  'queenless-with-cells',
  'hopeless',
  'own-queen',
];

/** Days of the visits that were meant; each at an hour of its own. */
export function visitDays(kind: Kind, d: Dice): number[] {
  switch (kind) {
    case 'early':
      return d.chance(0.5) ? [d.whole(2, 6), 10] : [d.whole(2, 6), 7, 10];
    case 'late': {
      const first = d.whole(8, 12);
      return [first, first + d.whole(2, 4)];
    }
    case 'any-days':
      return [...new Set(Array.from({ length: d.whole(1, 5) }, () => d.whole(0, 16)))].sort((a, b) => a - b);
    case 'queenless-with-cells':
    case 'hopeless':
      return [0, 3, 7, 10];
    case 'own-queen':
      return [d.whole(1, 10)];
    default:
      return [7, 10];
  }
}

function startingPointOf(kind: Kind): IntroductionSetup['startingPoint'] {
  switch (kind) {
    case 'queenless-with-cells':
      return kind;
    case 'hopeless':
      return 'hopelessly-queenless';
    case 'own-queen':
      return 'own-laying-queen';
    default:
      return 'planned-split';
  }
}

export interface Scene {
  readonly d: Dice;
  readonly kind: Kind;
  readonly colony: Colony;
  readonly keeper: Keeper;
  readonly setup: IntroductionSetup;
  readonly toMs: (t: number) => number;
  /** Days from the loss to the day on which the log starts. */
  readonly lossBefore: number;
  readonly hourOfSplit: number;
}

/** `misses`: cells are overlooked by a keeper whose eye is drawn, or is this share of standing cells. */
export function scene(seed: number, misses: boolean | number): Scene {
  const d = dice(seed);
  const kind = d.pick(kinds);
  const lossBefore =
    kind === 'queenless-with-cells' ? d.between(1, 9) : kind === 'hopeless' ? d.between(21, 32) : 0;
  const hourOfSplit = d.between(8, 19);
  const timeZone = d.pick(zones);
  // 50 dates, some of them about the change of daylight-saving time, are enough.
  const date = Temporal.PlainDate.from('2027-03-20').add({ days: d.whole(0, 49) });
  const zeroMs = date.toZonedDateTime({ timeZone }).epochMilliseconds + hourOfSplit * hour;
  const toMs = (t: number): number => zeroMs + (t - lossBefore) * day;
  const queenStays = kind === 'queen-not-seen' && d.chance(0.3);
  const colony = new Colony(d, queenStays);
  // Nobody cut: nearly every such colony raised a virgin. No source for how many lose her: half here.
  if (kind === 'hopeless' && d.chance(0.5)) colony.virginsLost(lossBefore);
  const setup: IntroductionSetup = {
    id: `history-${String(seed)}`,
    nucId: 'nuc',
    startingPoint: startingPointOf(kind),
    method: 'candy-cage',
    timeZone,
    openedAtMs: zeroMs,
  };
  const missShare = typeof misses === 'number' ? misses : misses ? d.beta(1, 10) : 0;
  const keeper = new Keeper(d, colony, missShare, setup.id, toMs);
  return { d, kind, colony, keeper, setup, toMs, lossBefore, hourOfSplit };
}

/** Writes the split; swarm cells are told, removed, left or overlooked for want of looking. */
export function begin({ d, kind, colony, keeper }: Scene): void {
  if (kind === 'queenless-with-cells' || kind === 'hopeless') return;
  if (kind !== 'swarm-cells') {
    keeper.split(kind === 'queen-not-seen' ? 'not-seen' : 'seen-in-parent', 'none');
    return;
  }
  const told = d.pick(['present-and-removed', 'present-and-left', 'not-looked'] as const);
  // Where nobody looked, most colonies have none. No source for how many: a quarter here.
  if (told !== 'not-looked' || d.chance(0.25)) colony.addSwarmCells(1 + d.poisson(d.gamma(1.8, 4.9)));
  const taken = told === 'present-and-removed' ? keeper.takeSwarmCellsOut() : undefined;
  // Half of the keepers count what they take out; who found none says that there were none.
  if (taken === 0) keeper.split('seen-in-parent', 'none');
  else keeper.split('seen-in-parent', told, d.chance(0.5) ? taken : undefined);
}
