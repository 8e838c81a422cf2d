/** Signs at the hive that speak against opening the candy: laying workers, bees that bite at the cage. */
import { type EffectiveFact } from './effective-facts.ts';
import type { cageBehaviours, temperaments } from './facts.ts';

type Behaviour = (typeof cageBehaviours)[number];
type Temperament = (typeof temperaments)[number];

interface Seen<T> {
  readonly what: T;
  readonly atMs: number;
}

export interface Signs {
  /** Several eggs a cell, or drone brood in worker cells. */
  readonly layingWorkers: Seen<'several-eggs-a-cell' | 'drone-brood-in-worker-cells'> | null;
  /** The last look that would have shown them. */
  readonly lookedForLayingWorkersAtMs: number | null;
  readonly atTheCage: Seen<Behaviour> | null;
  readonly temperament: Seen<Temperament> | null;
  readonly balledAtMs: number | null;
}

const nothing: Signs = {
  layingWorkers: null,
  lookedForLayingWorkersAtMs: null,
  atTheCage: null,
  temperament: null,
  balledAtMs: null,
};

function broodSigns(
  signs: Signs,
  atMs: number,
  seen: { readonly severalEggsACell: boolean; readonly droneBroodInWorkerCells: boolean },
): Signs {
  const what = seen.severalEggsACell
    ? 'several-eggs-a-cell'
    : seen.droneBroodInWorkerCells
      ? 'drone-brood-in-worker-cells'
      : null;
  return {
    ...signs,
    lookedForLayingWorkersAtMs: atMs,
    layingWorkers: what === null ? signs.layingWorkers : { what, atMs },
  };
}

function note(signs: Signs, { atMs, fact }: EffectiveFact): Signs {
  switch (fact.kind) {
    case 'inspection':
    case 'cells-cut': {
      const looked =
        fact.youngestBrood !== 'not-looked' || fact.severalEggsACell || fact.droneBroodInWorkerCells;
      const next = looked ? broodSigns(signs, atMs, fact) : signs;
      return fact.temperament ? { ...next, temperament: { what: fact.temperament, atMs } } : next;
    }
    case 'looked-for-queen':
      return { ...broodSigns(signs, atMs, fact), temperament: { what: fact.behaviour, atMs } };
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
export const foldSigns = (facts: readonly EffectiveFact[], carried?: Partial<Signs>): Signs =>
  facts.reduce(note, { ...nothing, ...carried });
