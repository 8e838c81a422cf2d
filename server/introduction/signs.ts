/** Signs at the hive that speak against opening the candy: laying workers, bees that bite at the cage. */
import { layingWorkersClearedDays } from '../biology/figures.ts';
import { developmentMs } from '../biology/duration.ts';
import { type EffectiveFact } from './effective-facts.ts';
import type { cageBehaviours, temperaments } from './facts.ts';
import { testFrames } from './test-frames.ts';

type Behaviour = (typeof cageBehaviours)[number];
type Temperament = (typeof temperaments)[number];

interface Seen<T> {
  readonly what: T;
  readonly atMs: number;
}

export interface Signs {
  /** Several eggs a cell, or drone brood in worker cells; null again once later looks disproved them. */
  readonly layingWorkers: Seen<'several-eggs-a-cell' | 'drone-brood-in-worker-cells'> | null;
  /** The last look that would have shown them. */
  readonly lookedForLayingWorkersAtMs: number | null;
  readonly atTheCage: Seen<Behaviour> | null;
  readonly temperament: Seen<Temperament> | null;
  readonly balledAtMs: number | null;
}

/** The first look on every frame, after they were seen, that found no sign of them. */
interface Folded extends Signs {
  readonly cleanSinceMs: number | null;
}

const nothing: Folded = {
  layingWorkers: null,
  lookedForLayingWorkersAtMs: null,
  atTheCage: null,
  temperament: null,
  balledAtMs: null,
  cleanSinceMs: null,
};

interface BroodLook {
  readonly severalEggsACell?: boolean | undefined;
  readonly droneBroodInWorkerCells?: boolean | undefined;
}

const shows = (look: BroodLook): boolean =>
  look.severalEggsACell === true || look.droneBroodInWorkerCells === true;

/** Both signs were answered: what an entry leaves out was not looked for. */
const asked = (look: BroodLook): boolean =>
  look.severalEggsACell !== undefined && look.droneBroodInWorkerCells !== undefined;

const disproved = (signs: Folded, atMs: number): Folded => ({
  ...signs,
  layingWorkers: null,
  cleanSinceMs: null,
  lookedForLayingWorkersAtMs: atMs,
});

const apart = developmentMs(layingWorkersClearedDays.value);

function broodSigns(signs: Folded, atMs: number, seen: BroodLook, everyFrame: boolean): Folded {
  if (shows(seen)) {
    const what = seen.severalEggsACell === true ? 'several-eggs-a-cell' : 'drone-brood-in-worker-cells';
    return {
      ...signs,
      lookedForLayingWorkersAtMs: atMs,
      layingWorkers: { what, atMs },
      cleanSinceMs: null,
    };
  }
  if (!asked(seen)) return signs;
  const looked = { ...signs, lookedForLayingWorkersAtMs: atMs };
  if (signs.layingWorkers === null || !everyFrame) return looked;
  if (signs.cleanSinceMs !== null && atMs - signs.cleanSinceMs >= apart) return disproved(signs, atMs);
  return { ...looked, cleanSinceMs: signs.cleanSinceMs ?? atMs };
}

/** Bees that raise queen cells on a frame given after the signs have no workers left that rule them. */
function answered(signs: Folded, outMs: number, facts: readonly EffectiveFact[]): Folded {
  const seenMs = signs.layingWorkers?.atMs ?? Infinity;
  const frame = testFrames(facts).find((one) => one.outMs === outMs);
  return frame?.answer === 'no-queen' && frame.inMs > seenMs ? disproved(signs, outMs) : signs;
}

function note(signs: Folded, { atMs, fact }: EffectiveFact, facts: readonly EffectiveFact[]): Folded {
  switch (fact.kind) {
    case 'inspection':
    case 'cells-cut': {
      const looked = fact.youngestBrood !== 'not-looked' || shows(fact);
      const next = looked ? broodSigns(signs, atMs, fact, fact.everyFrameChecked) : signs;
      return fact.temperament ? { ...next, temperament: { what: fact.temperament, atMs } } : next;
    }
    case 'looked-for-queen': {
      const next = { ...broodSigns(signs, atMs, fact, false), temperament: { what: fact.behaviour, atMs } };
      // Her own sealed worker brood, and no sign beside it: what was seen before was not hers, or not there.
      return fact.sealedWorkerBroodSeen && !shows(fact) && signs.layingWorkers ? disproved(next, atMs) : next;
    }
    case 'brood-frame-taken':
      return answered(signs, atMs, facts);
    case 'cage-checked':
      return { ...signs, atTheCage: { what: fact.behaviour, atMs } };
    case 'candy-opened':
      return fact.behaviour ? { ...signs, atTheCage: { what: fact.behaviour, atMs } } : signs;
    case 'balled':
      return { ...signs, balledAtMs: atMs };
    default:
      return signs;
  }
}

/** `carried`: what the introduction before left standing in the same nuc. */
export function foldSigns(facts: readonly EffectiveFact[], carried?: Partial<Signs>): Signs {
  const { cleanSinceMs: _, ...signs } = facts.reduce<Folded>((folded, fact) => note(folded, fact, facts), {
    ...nothing,
    ...carried,
  });
  return signs;
}
