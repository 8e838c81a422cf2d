/** One random history: how the nuc came about, when the keeper comes, and what the open gate says each time. */
import { Temporal } from 'temporal-polyfill';
import { noEvidence, type Gate } from '../../server/introduction/gates/gate.ts';
import { mayOpenCandy } from '../../server/introduction/gates/open-candy.ts';
import {
  foldIntroduction,
  type IntroductionSetup,
  type IntroductionState,
} from '../../server/introduction/state.ts';
import { Colony } from './colony.ts';
import { dice, type Dice } from './dice.ts';
import { Keeper } from './keeper.ts';

const day = 86_400_000;
const hour = 3_600_000;
const zones = ['UTC', 'Europe/Berlin', 'America/St_Johns', 'Australia/Lord_Howe'] as const;

/** What was true when the gate said go. */
export interface Go {
  readonly day: number;
  readonly rearableLarva: boolean;
  /** A cell that stood and that no complete look had passed over. */
  readonly cellToBeKnown: boolean;
  /** A virgin, or the old queen, that does not come from a missed cell. */
  readonly queenToBeKnown: boolean;
  /** A virgin from a missed cell, loose now or within a week. */
  readonly virginWithinAWeek: boolean;
}

export interface Stated {
  readonly chance: number;
  readonly came: boolean;
}

export interface Told {
  readonly kind: Kind;
  readonly go: Go | null;
  /** The gate's chance each time that it alone decided, and whether a virgin came. */
  readonly stated: readonly Stated[];
  /** Clean: cut on day 7, nothing found on day 10, nothing unusual. Whether the gate said go that day. */
  readonly clean: { readonly goOnDay10: boolean } | null;
}

type Kind =
  | 'clean'
  | 'early'
  | 'late'
  | 'any-days'
  | 'swarm-cells'
  | 'brood-added'
  | 'queen-not-seen'
  | 'queenless-with-cells'
  | 'hopeless';

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
];

/** Days of the visits that were meant; each at an hour of its own. */
function visitDays(kind: Kind, d: Dice): number[] {
  switch (kind) {
    case 'early':
      return d.chance(0.5) ? [d.whole(2, 6), 10] : [d.whole(2, 6), 7, 10];
    case 'late':
      return [d.whole(8, 12), d.whole(13, 16)];
    case 'any-days':
      return [...new Set(Array.from({ length: d.whole(1, 5) }, () => d.whole(0, 16)))].sort((a, b) => a - b);
    case 'queenless-with-cells':
    case 'hopeless':
      return [0, 3, 7, 10];
    default:
      return [7, 10];
  }
}

interface Scene {
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

function scene(seed: number, misses: boolean): Scene {
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
  const setup: IntroductionSetup = {
    id: `history-${String(seed)}`,
    nucId: 'nuc',
    startingPoint:
      kind === 'queenless-with-cells' ? kind : kind === 'hopeless' ? 'hopelessly-queenless' : 'planned-split',
    method: 'candy-cage',
    timeZone,
    openedAtMs: zeroMs,
  };
  const missShare = misses ? d.beta(1, 10) : 0;
  const keeper = new Keeper(d, colony, missShare, setup.id, toMs);
  return { d, kind, colony, keeper, setup, toMs, lossBefore, hourOfSplit };
}

/** Writes the split; swarm cells are told, removed, left or overlooked for want of looking. */
function begin({ d, kind, colony, keeper }: Scene): void {
  if (kind === 'queenless-with-cells' || kind === 'hopeless') return;
  if (kind !== 'swarm-cells') {
    keeper.split(kind === 'queen-not-seen' ? 'not-seen' : 'seen-in-parent', 'none');
    return;
  }
  const told = d.pick(['present-and-removed', 'present-and-left', 'not-looked', 'none-not-looked'] as const);
  if (told !== 'none-not-looked') colony.addSwarmCells(d.whole(1, 6));
  if (told === 'present-and-removed') colony.cut(colony.standing(0), 0);
  keeper.split('seen-in-parent', told === 'none-not-looked' ? 'not-looked' : told);
}

function truth(colony: Colony, t: number): Go {
  colony.advance(t);
  const loose = colony.virginsAt(t);
  return {
    day: t,
    rearableLarva: colony.hasRearable(t),
    cellToBeKnown: colony.standing(t).some((c) => !c.missed && !c.overDrone),
    queenToBeKnown: loose.some((v) => !v.fromMissed) || colony.layers.some((l) => l.from <= t && t < l.until),
    virginWithinAWeek: colony.virginFromMissedCell(t, 7),
  };
}

interface Answer {
  readonly go: Go | null;
  readonly stated: Stated | null;
  readonly wants: 'nothing' | 'look' | 'test-frame';
}

function ask({ colony, keeper, setup, toMs }: Scene, t: number, judged: Judged): Answer {
  const nowMs = Math.round(toMs(t));
  const gate = judged(foldIntroduction(setup, keeper.log, nowMs), nowMs);
  if (gate === 'go') return { go: truth(colony, t), stated: null, wants: 'nothing' };
  const onlyChance = gate.answer === 'go' || gate.headline === 'One more look first';
  const stated =
    onlyChance && gate.chanceOfStandingCell !== undefined
      ? { chance: gate.chanceOfStandingCell, came: truth(colony, t).virginWithinAWeek }
      : null;
  if (gate.answer === 'go') return { go: truth(colony, t), stated, wants: 'nothing' };
  return { go: null, stated, wants: gate.answer === 'stop' ? 'test-frame' : 'look' };
}

/** The answer under judgement; tests put a reckless one in its place. */
export type Judged = (state: IntroductionState, nowMs: number) => Gate | 'go';

const theGate: Judged = (state, nowMs) => mayOpenCandy(state, noEvidence, nowMs);

/** Plays one history to the first go, or to the day on which the keeper gives up. */
export function play(seed: number, misses: boolean, gate: Judged = theGate): Told {
  const s = scene(seed, misses);
  const { d, kind, keeper, colony } = s;
  begin(s);
  const at = (dayNumber: number): number =>
    s.lossBefore + dayNumber + (d.between(8, 19) - s.hourOfSplit) / 24;
  const hung = s.lossBefore + (d.chance(0.5) ? 0.05 : d.between(1, 6));
  keeper.hang(hung);
  const stated: Stated[] = [];
  const days = visitDays(kind, d);
  const broodDay = kind === 'brood-added' ? d.whole(1, 12) : null;
  let t = s.lossBefore;
  for (let visit = 0; visit < 6; visit++) {
    const planned = days[visit];
    const next = planned === undefined ? t + d.whole(1, 4) + d.between(-0.2, 0.2) : at(planned);
    t = Math.max(next, t + 0.3, s.lossBefore + 0.01);
    if (
      broodDay !== null &&
      planned !== undefined &&
      broodDay <= planned &&
      visit === days.findIndex((x) => x >= broodDay)
    ) {
      keeper.bringBrood(Math.max(0.1, t - d.between(0.3, 1)));
    }
    const sloppy = kind === 'any-days' && d.chance(0.3);
    keeper.look(t, !sloppy, !(kind === 'any-days' && d.chance(0.15)));
    const answer = ask(s, t + 0.02, gate);
    if (answer.stated) stated.push(answer.stated);
    const foundLast = keeper.log.at(-1);
    const clean =
      kind === 'clean' &&
      visit === 1 &&
      foundLast?.type === 'fact' &&
      foundLast.fact.kind === 'cells-cut' &&
      foundLast.fact.cells.open + foundLast.fact.cells.sealed === 0
        ? { goOnDay10: answer.go !== null }
        : null;
    if (answer.go || clean) return { kind, go: answer.go, stated, clean };
    if (answer.wants === 'test-frame' && planned === undefined) t = keeper.testFrame(t + 0.01);
    // Time passes, and the keeper asks again without having looked.
    const later = t + d.between(0.1, 3);
    const again = ask(s, later, gate);
    if (again.go) return { kind, go: again.go, stated, clean: null };
    colony.advance(later);
    t = Math.max(t, later - 0.3);
  }
  return { kind, go: null, stated, clean: null };
}
