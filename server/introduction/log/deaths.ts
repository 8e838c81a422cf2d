/** Deaths of queens in the log, each told once. */
import type { EffectiveFact } from './effective-facts.ts';
import { oneVisit } from './looks.ts';

export const dies = ({ fact }: EffectiveFact): boolean =>
  fact.kind === 'queen-dead' ||
  (fact.kind === 'cage-checked' && !fact.queenAlive) ||
  (fact.kind === 'balled' && !fact.rescued);

const queenComes = ({ fact }: EffectiveFact): boolean =>
  fact.kind === 'queen-arrived' || fact.kind === 'cage-hung';

/**
 * Without what a visit tells a second time: a queen found dead in her cage, or balled to death, is often logged as dead too.
 * Two entries of one kind are two queens.
 */
export function deathsOnce(facts: readonly EffectiveFact[]): readonly EffectiveFact[] {
  let told: EffectiveFact | null = null;
  return facts.filter((event) => {
    if (queenComes(event)) told = null;
    if (!dies(event)) return true;
    const again = told !== null && told.fact.kind !== event.fact.kind && event.atMs - told.atMs < oneVisit;
    told = again ? null : event;
    return !again;
  });
}
