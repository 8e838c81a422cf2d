/**
 * Two-pass removal: the size of a closed population from what two equal searches took out of it.
 * Seber and Le Cren 1967, J. Animal Ecology 36:631. Here: cells that stood at the first of two looks, where
 * nothing was started or torn down between them.
 */
export type TwoPassRemoval =
  | {
      readonly ok: true;
      readonly population: number;
      readonly standardError: number;
      /** Share that one search finds. */
      readonly foundShare: number;
      /** Left after both searches. */
      readonly left: number;
    }
  | { readonly ok: false; readonly why: string };

export function twoPassRemoval(first: number, second: number): TwoPassRemoval {
  if (first <= second) {
    return { ok: false, why: 'the second search found as many as the first or more: no estimate' };
  }
  const difference = first - second;
  const population = first ** 2 / difference;
  return {
    ok: true,
    population,
    standardError: (first * second * Math.sqrt(first + second)) / difference ** 2,
    foundShare: difference / first,
    left: population - first - second,
  };
}
