/** One random history: the keeper comes and goes, and each time it is written down what the open gate says. */
import { noEvidence, type Gate } from '../../server/introduction/acts/gate.ts';
import { mayOpenCandy } from '../introduction/support/gates.ts';
import type { MissRate } from '../../server/introduction/log/setup.ts';
import { foldIntroduction, type IntroductionState } from '../../server/introduction/state.ts';
import { begin, scene, visitDays, type Kind, type Scene } from './scene.ts';

/** What was true when the gate said go. */
export interface Go {
  readonly day: number;
  readonly rearableLarva: boolean;
  /** A cell that stood and that no complete look had passed over. */
  readonly cellToBeKnown: boolean;
  /** The old queen walks free. */
  readonly oldQueen: boolean;
  /** A virgin, loose now or within a week. */
  readonly virginWithinAWeek: boolean;
}

export interface Stated {
  readonly chance: number;
  readonly came: boolean;
}

export interface Played {
  readonly kind: Kind;
  readonly go: Go | null;
  /** The gate's chance each time that it alone decided, and whether a virgin came. */
  readonly stated: readonly Stated[];
  /** Clean: cut on day 7, nothing found on day 10, nothing unusual. Whether the gate said go that day. */
  readonly clean: { readonly goOnDay10: boolean } | null;
}

/**
 * A laying queen of one's own may be let out while larvae are left: she needs the cells of the last look gone,
 * and no virgin.
 */
function truth({ colony, kind, keeper }: Scene, t: number): Go {
  colony.advance(t);
  return {
    day: t,
    rearableLarva: kind !== 'own-queen' && colony.hasRearable(t),
    cellToBeKnown: colony
      .standing(t)
      .some((c) => !c.missed && !c.overDrone && (kind !== 'own-queen' || c.started <= keeper.lastLook)),
    oldQueen: colony.layers.some((l) => l.from <= t && t < l.until),
    virginWithinAWeek: colony.virginWithin(t, 7),
  };
}

interface Answer {
  readonly go: Go | null;
  readonly stated: Stated | null;
  readonly wants: 'nothing' | 'look' | 'test-frame';
}

function ask(at: Scene, t: number, judged: Judged): Answer {
  const { keeper, setup, toMs } = at;
  const nowMs = Math.round(toMs(t));
  const gate = judged(foldIntroduction(setup, keeper.log, nowMs), nowMs);
  if (gate === 'go') return { go: truth(at, t), stated: null, wants: 'nothing' };
  const onlyChance =
    gate.answer === 'go' || ['One more look first', 'A test frame first'].includes(gate.headline);
  const stated =
    onlyChance && gate.chanceOfStandingCell !== undefined
      ? { chance: gate.chanceOfStandingCell, came: truth(at, t).virginWithinAWeek }
      : null;
  if (gate.answer === 'go') return { go: truth(at, t), stated, wants: 'nothing' };
  return {
    go: null,
    stated,
    wants: gate.answer === 'stop' || gate.headline === 'A test frame first' ? 'test-frame' : 'look',
  };
}

/** The answer under judgement; tests put a reckless one in its place. */
export type Judged = (state: IntroductionState, nowMs: number) => Gate | 'go';

const theGate: Judged = (state, nowMs) => mayOpenCandy(state, noEvidence, nowMs);

/** A frame of young brood is brought in some hours before the first planned visit after this day. */
function maybeBringBrood(
  { kind, keeper, d }: Scene,
  broodDay: number,
  days: readonly number[],
  visit: number,
  t: number,
): void {
  if (kind !== 'brood-added' || visit !== days.findIndex((day) => day >= broodDay)) return;
  keeper.bringBrood(Math.max(0.1, t - d.between(0.3, 1)));
}

/** Cut on day 7 and looked through on day 10 with nothing found: the gate should not hold the keeper up. */
function cleanDay10({ kind, keeper }: Scene, visit: number, answer: Answer): Played['clean'] {
  const last = keeper.log.at(-1);
  if (kind !== 'clean' || visit !== 1 || last?.type !== 'fact' || last.fact.kind !== 'cells-cut') return null;
  const { open = 0, sealed = 0 } = last.fact.cells;
  return open + sealed === 0 ? { goOnDay10: answer.go !== null } : null;
}

/** After the planned visits the keeper comes every few days, as long as patience lasts. */
const mostVisits = 6;

/** Plays one history to the first go, or to the day on which the keeper gives up. */
export function play(
  seed: number,
  misses: boolean | number,
  gate: Judged = theGate,
  missRate?: MissRate,
): Played {
  const plain = scene(seed, misses);
  const s = missRate ? { ...plain, setup: { ...plain.setup, missRate } } : plain;
  const { d, kind, keeper } = s;
  begin(s);
  keeper.hang(s.lossBefore + (d.chance(0.5) ? 0.05 : d.between(1, 6)));
  const stated: Stated[] = [];
  const days = visitDays(kind, d);
  const broodDay = d.whole(1, 12);
  let t = s.lossBefore;
  for (let visit = 0; visit < mostVisits; visit++) {
    const planned = days[visit];
    const next =
      planned === undefined
        ? t + d.whole(1, 4) + d.between(-0.2, 0.2)
        : s.lossBefore + planned + (d.between(8, 19) - s.hourOfSplit) / 24;
    t = Math.max(next, t + 0.3, s.lossBefore + 0.01);
    maybeBringBrood(s, broodDay, days, visit, t);
    const careless = kind === 'any-days' && d.chance(0.3);
    const onlyLooks = kind === 'any-days' && d.chance(0.15);
    keeper.look(t, !careless, !onlyLooks);
    const answer = ask(s, t + 0.02, gate);
    if (answer.stated) stated.push(answer.stated);
    const clean = cleanDay10(s, visit, answer);
    if (answer.go || clean) return { kind, go: answer.go, stated, clean };
    if (answer.wants === 'test-frame' && planned === undefined) t = keeper.testFrame(t + 0.01);
    // Time passes, and the keeper asks again without having looked.
    const later = t + (kind === 'own-queen' ? d.between(0.05, 0.4) : d.between(0.1, 3));
    const again = ask(s, later, gate);
    if (again.go) return { kind, go: again.go, stated, clean: null };
    t = Math.max(t, later - 0.3);
  }
  return { kind, go: null, stated, clean: null };
}
