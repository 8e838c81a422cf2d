/** Signs at the hive that speak against an act: laying workers, bees that bite at the cage, brood disease. */
import { layingWorkersClearedDays } from '../../biology/figures.ts';
import { developmentMs } from '../../biology/duration.ts';
import { oneVisit } from './looks.ts';
import { type EffectiveFact } from './effective-facts.ts';
import type { cageBehaviours, EggPlace, temperaments } from './facts.ts';
import { testFrames } from './test-frames.ts';

type Behaviour = (typeof cageBehaviours)[number];
type Temperament = (typeof temperaments)[number];

interface Seen<T> {
  readonly what: T;
  readonly atMs: number;
}

export interface LayingSign extends Seen<
  'several-eggs-a-cell' | 'eggs-on-the-walls' | 'drone-brood-in-worker-cells'
> {
  /** Where the eggs stood, where that was logged. */
  readonly eggsStand?: EggPlace | undefined;
  /** Two signs in one look, or one on two days. Absent: not known. */
  readonly twice?: boolean;
  /** A queen that had been let out was seen in that look: it may be hers. */
  readonly besideHer?: true;
}

export interface Signs {
  /** The last sight of what workers lay, or a queen that is not mated; null again once later looks disproved it. */
  readonly layingWorkers: LayingSign | null;
  /** Eggs on the walls that were seen once, before workers are to be watched for: looked for again. */
  readonly suspected: LayingSign | null;
  /** The first look on every frame, since the last sight, that found none: another one some days later disproves it. */
  readonly cleanSinceMs: number | null;
  /** The last look that would have shown them. */
  readonly lookedForLayingWorkersAtMs: number | null;
  readonly atTheCage: Seen<Behaviour> | null;
  /** They bit at every visit to the cage since then; null where they were calm at the last one. */
  readonly bitingSinceMs: number | null;
  readonly temperament: Seen<Temperament> | null;
  readonly balledAtMs: number | null;
  /** The first signs of brood disease since they were last ruled out. */
  readonly diseaseAtMs: number | null;
}

const nothing: Signs = {
  layingWorkers: null,
  suspected: null,
  lookedForLayingWorkersAtMs: null,
  atTheCage: null,
  bitingSinceMs: null,
  temperament: null,
  balledAtMs: null,
  diseaseAtMs: null,
  cleanSinceMs: null,
};

interface BroodLook {
  /** In a look for the queen: she was seen, and not in her cage. */
  readonly queenSeen?: boolean | undefined;
  readonly cageEmpty?: boolean | undefined;
  readonly severalEggsACell?: boolean | undefined;
  readonly eggsStand?: EggPlace | undefined;
  readonly droneBroodInWorkerCells?: boolean | undefined;
}

/** What a look shows of brood that is no mated queen's, the surest sign first. */
function signIn(look: BroodLook): LayingSign['what'] | null {
  if (look.eggsStand === 'walls') return 'eggs-on-the-walls';
  if (look.droneBroodInWorkerCells === true) return 'drone-brood-in-worker-cells';
  return look.severalEggsACell === true ? 'several-eggs-a-cell' : null;
}

export const showsNoMatedQueen = (look: BroodLook): boolean => signIn(look) !== null;

/** Both signs were answered: what an entry leaves out was not looked for. */
export const signsAsked = (look: BroodLook): boolean =>
  look.severalEggsACell !== undefined && look.droneBroodInWorkerCells !== undefined;

type QueenLook = Extract<EffectiveFact['fact'], { kind: 'looked-for-queen' }>;

/** Sealed worker brood proves her; single eggs on the bottom do where only the number of eggs spoke against her. */
const showsHer = (look: QueenLook, against: LayingSign): boolean =>
  !showsNoMatedQueen(look) &&
  (look.sealedWorkerBroodSeen || (against.what === 'several-eggs-a-cell' && look.eggsStand === 'bottom'));

const disproved = (signs: Signs, atMs: number): Signs => ({
  ...signs,
  layingWorkers: null,
  cleanSinceMs: null,
  lookedForLayingWorkersAtMs: atMs,
});

const signsIn = ({ eggsStand, droneBroodInWorkerCells, severalEggsACell }: BroodLook): number =>
  [eggsStand === 'walls', droneBroodInWorkerCells, severalEggsACell].filter((sign) => sign === true).length;

/** Within one visit it is the same sight. */
const seenBefore = (sign: LayingSign | null, atMs: number): boolean =>
  sign !== null && (sign.twice !== false || atMs - sign.atMs > oneVisit);

/** Drones are in their cells for weeks after she is gone; eggs are not. */
const stillHers = (sign: LayingSign | null, what: LayingSign['what']): boolean =>
  sign?.besideHer === true && what === 'drone-brood-in-worker-cells';

/** A second clean look counts that long after the first. */
export const cleanLooksApartMs = developmentMs(layingWorkersClearedDays.value);

function broodSigns(signs: Signs, atMs: number, seen: BroodLook, everyFrame: boolean): Signs {
  const what = signIn(seen);
  if (what !== null) {
    return {
      ...signs,
      lookedForLayingWorkersAtMs: atMs,
      layingWorkers: {
        what,
        atMs,
        ...(seen.eggsStand === undefined ? {} : { eggsStand: seen.eggsStand }),
        twice: signsIn(seen) > 1 || seenBefore(signs.layingWorkers, atMs),
        ...((seen.queenSeen === true && seen.cageEmpty === true) || stillHers(signs.layingWorkers, what)
          ? { besideHer: true }
          : {}),
      },
      cleanSinceMs: null,
    };
  }
  if (!signsAsked(seen)) return signs;
  const looked = { ...signs, lookedForLayingWorkersAtMs: atMs };
  if (!everyFrame) return looked;
  if (signs.cleanSinceMs !== null && atMs - signs.cleanSinceMs >= cleanLooksApartMs)
    return disproved(signs, atMs);
  return { ...looked, cleanSinceMs: signs.cleanSinceMs ?? atMs };
}

/** Bees that raise queen cells on a frame given at the visit that saw the signs, or later, have no workers left that rule them. */
function answered(signs: Signs, outMs: number, facts: readonly EffectiveFact[]): Signs {
  const seenMs = signs.layingWorkers?.atMs ?? -Infinity;
  const frame = testFrames(facts).find((one) => one.outMs === outMs);
  return frame?.answer === 'no-queen' && frame.inMs >= seenMs ? disproved(signs, outMs) : signs;
}

const atCage = (signs: Signs, what: Behaviour, atMs: number): Signs => ({
  ...signs,
  atTheCage: { what, atMs },
  bitingSinceMs: what === 'biting' ? (signs.bitingSinceMs ?? atMs) : null,
});

/** Visits to the cage of each time that they bit at every one. */
export function bitingSpells(facts: readonly EffectiveFact[]): readonly (readonly number[])[] {
  const spells: number[][] = [[]];
  for (const { atMs, fact } of facts) {
    if ((fact.kind !== 'cage-checked' && fact.kind !== 'candy-opened') || !fact.behaviour) continue;
    if (fact.behaviour === 'biting') spells.at(-1)?.push(atMs);
    else spells.push([]);
  }
  return spells;
}

function note(signs: Signs, { atMs, fact }: EffectiveFact, facts: readonly EffectiveFact[]): Signs {
  switch (fact.kind) {
    case 'inspection':
    case 'cells-cut': {
      const looked = fact.youngestBrood !== 'not-looked' || showsNoMatedQueen(fact);
      const next = looked ? broodSigns(signs, atMs, fact, fact.everyFrameChecked) : signs;
      return fact.temperament ? { ...next, temperament: { what: fact.temperament, atMs } } : next;
    }
    case 'looked-for-queen': {
      const next = { ...broodSigns(signs, atMs, fact, false), temperament: { what: fact.behaviour, atMs } };
      // Her own brood, and no sign beside it: what was seen before was not hers, or not there.
      return signs.layingWorkers && showsHer(fact, signs.layingWorkers) ? disproved(next, atMs) : next;
    }
    case 'brood-frame-taken':
      return answered(signs, atMs, facts);
    case 'cage-checked':
    case 'candy-opened':
      return fact.behaviour ? atCage(signs, fact.behaviour, atMs) : signs;
    case 'balled':
      return { ...signs, balledAtMs: atMs };
    case 'brood-disease':
      return { ...signs, diseaseAtMs: fact.found === 'signs' ? (signs.diseaseAtMs ?? atMs) : null };
    default:
      return signs;
  }
}

interface Known {
  /** What the introduction before left standing in the same nuc. */
  readonly carried?: Partial<Signs> | undefined;
  /** From when on workers are to be watched for; null where nobody knows. */
  readonly watchFromMs: number | null;
  readonly releasedAtMs: number | null;
}

/**
 * One sight of eggs on the walls before workers can be expected to lay is no proof; a later look on every frame that is
 * clean clears it.
 */
const unproved = ({ what, atMs, twice }: LayingSign, { watchFromMs, releasedAtMs }: Known): boolean =>
  what === 'eggs-on-the-walls' &&
  twice === false &&
  atMs < (watchFromMs ?? -Infinity) &&
  atMs < (releasedAtMs ?? Infinity);

export function foldSigns(facts: readonly EffectiveFact[], known: Known): Signs {
  const signs = facts.reduce<Signs>((folded, fact) => note(folded, fact, facts), {
    ...nothing,
    ...known.carried,
  });
  const { cleanSinceMs } = signs;
  const sign = signs.layingWorkers;
  if (!sign || !unproved(sign, known)) return signs;
  const cleared = cleanSinceMs !== null && cleanSinceMs - sign.atMs > oneVisit;
  return { ...signs, layingWorkers: null, suspected: cleared ? null : sign };
}
