/** How a history begins: one colony, one keeper's eye, one season's post and weather; the same for whoever keeps it. */
import { Temporal } from 'temporal-polyfill';
import type { FactPayload, IntroductionMethod, StartingPoint } from '../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { dice, type Dice } from '../oracle/dice.ts';
import { Hive } from './hive.ts';
import { eye, luck, nature } from './nature.ts';
import { Sight } from './sight.ts';

const timeZone = 'Europe/Berlin';
const dayMs = 86_400_000;

export interface Start {
  readonly startingPoint: StartingPoint;
  readonly method: IntroductionMethod;
}

export interface Scene extends Start {
  readonly seed: number;
  readonly setup: IntroductionSetup;
  readonly hive: Hive;
  readonly sight: Sight;
  /** Of what happens by the way: post, accidents. */
  readonly d: Dice;
  readonly toMs: (t: number) => number;
  /** The first queen's arrival, alive or not. */
  readonly post: { readonly t: number; readonly alive: boolean };
  readonly cannotGo: (day: number) => boolean;
  /** Day 0 begins with this, or the tool is asked to order it (a split). */
  readonly begin: (t: number) => FactPayload | null;
  /** What is done and seen when the split is made. */
  readonly split: (t: number) => FactPayload;
  /** Nothing was odd: such a nuc should not be held up. */
  readonly plain: boolean;
}

const ten = 10 / 24;

function postOf(d: Dice, startingPoint: StartingPoint): Scene['post'] & { readonly expected: number } {
  const own = startingPoint === 'own-laying-queen';
  // Who splits, or takes the old queen out, does it a week before the next one comes.
  const meant = startingPoint === 'planned-split' || startingPoint === 'requeened-in-place';
  const expected = own ? 1 : meant ? 7 : d.whole(1, 8);
  const roll = d.unit();
  const off = own ? 0 : roll < luck.early ? -d.whole(1, 6) : roll > 1 - luck.late ? d.whole(1, 10) : 0;
  return {
    expected,
    t: Math.max(startingPoint === 'planned-split' ? 1 : 0, expected + off) + 8 / 24,
    alive: own || !d.chance(luck.deadOnArrival),
  };
}

export function scene(seed: number, { startingPoint, method }: Start): Scene {
  const d = dice(seed * 7919 + 13);
  const bees = dice(seed * 104_729 + 7);
  const date = Temporal.PlainDate.from('2027-04-20').add({ days: d.whole(0, 80) });
  const zeroMs = date.toZonedDateTime({ timeZone }).epochMilliseconds;
  const toMs = (t: number): number => Math.round(zeroMs + t * dayMs);
  const hive = new Hive(bees, nature(bees), {
    ownQueen: startingPoint === 'own-laying-queen',
    mesh: method === 'push-in-cage',
  });
  const sight = new Sight(dice(seed * 15_485_863 + 3), hive, eye(d));
  const { expected, ...post } = postOf(d, startingPoint);
  const weather = dice(seed + 5);
  const bad = Array.from({ length: 260 }, () => weather.chance(luck.cannotGo));
  const split = startingPoint === 'planned-split' || startingPoint === 'own-laying-queen';
  const planned = startingPoint === 'planned-split';
  const openedAt = planned ? -d.whole(1, 6) + 0.8 : 9.5 / 24;
  const odd = { swarm: d.chance(split ? 0.12 : 0.05), notSeen: d.chance(0.12), stays: d.chance(0.2) };
  return {
    seed,
    startingPoint,
    method,
    hive,
    sight,
    d,
    toMs,
    post,
    // The day on which it begins is one on which somebody went.
    cannotGo: (day) => day !== 0 && (bad[day + 20] ?? false),
    setup: {
      id: 'introduction',
      nucId: 'nuc',
      startingPoint,
      method,
      timeZone,
      openedAtMs: toMs(openedAt),
      ...(planned ? { plannedSplitMs: toMs(ten) } : {}),
      expectedQueenMs: toMs(expected + 11 / 24),
    },
    begin: (t) =>
      startingPoint === 'own-laying-queen'
        ? makeSplit(hive, sight, bees, odd, t)
        : begin(startingPoint, hive, sight, bees, odd.swarm, t),
    split: (t) => makeSplit(hive, sight, bees, odd, t),
    plain: !odd.swarm && !odd.notSeen && hive.colony.nature.crossDays === 0 && post.alive && post.t < 8,
  };
}

function inspected(sight: Sight, t: number): FactPayload {
  const seen = sight.cells(t);
  return {
    kind: 'inspection',
    youngestBrood: seen.youngest,
    cells: seen.counts,
    everyFrameChecked: seen.everyFrame,
    beesShakenOff: true,
    severalEggsACell: seen.severalEggs,
    droneBroodInWorkerCells: seen.droneBrood,
    virginSeen: seen.virgin,
    layingQueenSeen: false,
  };
}

type CellsThere = Pick<Extract<FactPayload, { kind: 'split-made' }>, 'cellsAlreadyThere' | 'cellsTakenOut'>;

/** Cells that stand when the queen goes: looked for or not, taken out or left. */
function cellsAlreadyThere({ colony }: Hive, sight: Sight, d: Dice, t: number): CellsThere {
  const { found } = sight.cells(t);
  const looked = d.unit();
  if (looked < 0.12) return { cellsAlreadyThere: 'not-looked' };
  if (found.length === 0) return { cellsAlreadyThere: 'none' };
  if (looked < 0.2) return { cellsAlreadyThere: 'present-and-left' };
  colony.cut(found, t);
  return { cellsAlreadyThere: 'present-and-removed', cellsTakenOut: found.length };
}

/** What made somebody open an introduction in a nuc that was not split for it. */
function begin(
  startingPoint: StartingPoint,
  hive: Hive,
  sight: Sight,
  d: Dice,
  swarm: boolean,
  t: number,
): FactPayload | null {
  const { colony } = hive;
  switch (startingPoint) {
    case 'queenless-with-cells': {
      const loss = t - d.between(1, 12);
      colony.laidUntil(loss);
      colony.lose(loss);
      return inspected(sight, t);
    }
    case 'hopelessly-queenless': {
      const loss = t - d.between(19, 40);
      colony.laidUntil(loss);
      if (d.chance(0.08)) colony.hideVirgin(loss + d.between(11, 16));
      return inspected(sight, t);
    }
    case 'requeened-in-place': {
      if (swarm) colony.addSwarmCells(d.whole(1, 5), t);
      const there = cellsAlreadyThere(hive, sight, d, t);
      colony.laidUntil(t);
      colony.lose(t);
      return { kind: 'queen-removed', which: 'old-queen', ...there };
    }
    default:
      return null;
  }
}

function makeSplit(
  hive: Hive,
  sight: Sight,
  d: Dice,
  odd: { readonly swarm: boolean; readonly notSeen: boolean; readonly stays: boolean },
  t: number,
): FactPayload {
  const { colony } = hive;
  if (odd.swarm) colony.addSwarmCells(d.whole(1, 6), t);
  const there = cellsAlreadyThere(hive, sight, d, t);
  if (odd.notSeen && odd.stays) colony.layers.push({ from: t - 60, until: Infinity, who: 'old' });
  else {
    colony.laidUntil(t);
    colony.lose(t);
  }
  return {
    kind: 'split-made',
    framesOfBees: 3,
    framesOfSealedBrood: 2,
    framesOfOpenBrood: 1,
    framesOfStores: 1,
    oldQueen: odd.notSeen ? 'not-seen' : 'seen-in-parent',
    ...there,
  };
}
