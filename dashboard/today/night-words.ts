/** What is said of a nuc that may chill in the night ahead. Pure. */
import type { NucSummary } from '../../server/contract/nucs.ts';

type Night = NonNullable<NucSummary['tonight']>;

/** From here on a nuc is named; from the second on it is likely. */
export const possibleFrom = 0.25;
const likelyFrom = 0.5;

/** Its newest reading says more than the reckoning of the night, unless it is old or in doubt. */
export function nightWords({ limitC, chanceBelow }: Night, brood: NucSummary['latest']['brood']): string {
  if (brood && !brood.stale && !brood.suspect && brood.value < limitC) return 'is under the limit now';
  return (chanceBelow ?? 0) >= likelyFrom ? 'will likely chill' : 'may chill';
}
