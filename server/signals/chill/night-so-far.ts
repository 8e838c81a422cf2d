/** What is known of a night's lowest once part of it has passed: it is no warmer than the newest reading. */
import { lowestErrorK } from '../../biology/nest-figures.ts';
import { ends90 } from '../statistics/intervals.ts';
import { mixtureBelow, mixtureQuantile, type Component } from '../statistics/mixture.ts';
import type { ChillOutlook } from '../types.ts';

/** Method: under this nothing is left of it. */
const negligible = 1e-6;
/** Method: over this nearly all is possible still, and nothing new is known. */
const mostOfIt = 0.99;

export type SaidOfNight = Pick<
  ChillOutlook,
  | 'forecast'
  | 'tonightMinC'
  | 'chanceBelow'
  | 'chanceOfUsual'
  | 'basis'
  | 'nightBeginsMs'
  | 'nightEndsMs'
  | 'falls'
>;
/** With the mixture that it was read from; none where nothing is said. */
export type NightOutlook = SaidOfNight & { readonly parts: readonly Component[] };

/**
 * The lowest from now to dawn is no warmer than now: what is known of it, given that. A nest that has sunk to a few tenths over
 * the limit is likelier to pass it than the evening’s reckoning said.
 */
export function noWarmerThan(
  latestC: number,
  limitC: number,
  night: NightOutlook,
  isNight: boolean,
): SaidOfNight {
  const { tonightMinC: lowest, chanceBelow, parts } = night;
  const said = withoutParts(night);
  if (!lowest.ok || chanceBelow === null) return said;
  const possible = mixtureBelow(parts, latestC + lowestErrorK.value);
  const tells = isNight && possible > negligible && possible <= mostOfIt;
  const ends = tells ? given(parts, possible) : lowest;
  const chance = tells ? Math.min(1, mixtureBelow(parts, limitC) / possible) : chanceBelow;
  const [value, low, high] = [ends.value, ends.low, ends.high].map((tempC) => Math.min(tempC, latestC)) as [
    number,
    number,
    number,
  ];
  return {
    ...said,
    tonightMinC: { ...lowest, value, low, high },
    chanceBelow: latestC < limitC ? 1 : chance,
  };
}

/** The mixture’s ends and middle within its lowest `possible` share. */
function given(parts: readonly Component[], possible: number): { value: number; low: number; high: number } {
  const [low, value, high] = [ends90.low, ends90.middle, ends90.high].map((p) =>
    mixtureQuantile(parts, p * possible),
  ) as [number, number, number];
  return { value, low, high };
}

export const withoutParts = ({ parts: _, ...said }: NightOutlook): SaidOfNight => said;
