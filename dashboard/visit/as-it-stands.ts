/** An entry of the log as it is to be written again: a correction reads as what it says of the fact under it. Pure. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import type { Fact } from '../api/facts.ts';

export function asItStands(
  log: NucDetail['log'],
  id: string,
): { readonly fact: Fact; readonly happenedAtMs: number } | undefined {
  const entry = log.find((line) => line.entry.id === id)?.entry;
  if (!entry) return undefined;
  if (entry.type === 'fact') return entry;
  const others = log.filter((line) => line.entry.id !== id);
  const before = asItStands(others, entry.corrects);
  return (
    before && {
      fact: entry.replacement ?? before.fact,
      happenedAtMs: entry.replacementHappenedAtMs ?? before.happenedAtMs,
    }
  );
}
