/** How far from its parent the split stands. */
import { homingRangeMetres, standMetres } from '../../biology/figures.ts';
import { foragersStay, movedMetres, movedWithoutThem } from '../log/move-distance.ts';
import { metres as inMetres, say } from '../../words/phrase.ts';
import type { IntroductionState } from '../state.ts';
import { cite, faulty, type Condition } from './condition.ts';

/** Null where the distance is as it should be, where it no longer matters, nobody logged it, or there is no parent. */
export function moveDistance({ facts, split }: IntroductionState): Condition | null {
  const metres = movedMetres(facts);
  if (split === null || metres === null || movedWithoutThem(facts)) return null;
  if (foragersStay(facts)) {
    const text = say`The nuc was moved ${inMetres(metres)}, and beyond 3 to 5 km foragers don’t find home. The old bees stay, and they take a strange queen less readily. Watch them on the cage for longer, or bring the nuc back to the parent’s apiary.`;
    return faulty(text, cite('range within which foragers fly home', homingRangeMetres));
  }
  if (metres >= standMetres.value) return null;
  const text = say`The nuc stands only ${inMetres(metres)} from where it was: its foragers may find it again, so that old bees stay.`;
  return faulty(text, cite('distance from the parent', standMetres));
}
