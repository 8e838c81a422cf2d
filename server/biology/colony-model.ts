/**
 * The colony model of Khoury, Myerscough and Barron 2011 (PLoS ONE 6:e18491): hive bees H and foragers F,
 * eclosion held down by too few bees, recruitment held down by many foragers. It describes a colony whose
 * queen lays; a queenless nuc lives off its brood instead (`nuc-population.ts`).
 */
import {
  broodCareBees,
  foragerDeathPerDay,
  layingRatePerDay,
  recruitmentPerDay,
  socialInhibition,
} from './population-figures.ts';

export interface ColonyRates {
  /** Eggs a day. */
  readonly laying: number;
  /** Bees at which half of the eggs are brought up. */
  readonly halfCare: number;
  /** Recruitment of hive bees to foraging where there are no foragers, 1/d. */
  readonly recruitment: number;
  /** How strongly foragers hold recruitment back, 1/d. */
  readonly inhibition: number;
  /** Death of foragers, 1/d. */
  readonly death: number;
}

export const publishedRates: ColonyRates = {
  laying: layingRatePerDay.value,
  halfCare: broodCareBees.value,
  recruitment: recruitmentPerDay.value,
  inhibition: socialInhibition.value,
  death: foragerDeathPerDay.value,
};

export interface ColonySize {
  readonly hive: number;
  readonly foragers: number;
}

/** Change a day of both, bees a day. */
function colonyChange({ hive, foragers }: ColonySize, rates: ColonyRates): ColonySize {
  const bees = hive + foragers;
  const recruited = hive * (rates.recruitment - rates.inhibition * (bees === 0 ? 0 : foragers / bees));
  const emerged = (rates.laying * bees) / (rates.halfCare + bees);
  return { hive: emerged - recruited, foragers: recruited - rates.death * foragers };
}

/** Sizes after `days`, by the classical Runge-Kutta method with steps of `step` days. */
export function runColony(start: ColonySize, rates: ColonyRates, days: number, step = 0.01): ColonySize {
  let at = start;
  const moved = (by: ColonySize, times: number): ColonySize => ({
    hive: at.hive + by.hive * times,
    foragers: at.foragers + by.foragers * times,
  });
  for (let i = 0; i < Math.round(days / step); i++) {
    const k1 = colonyChange(at, rates);
    const k2 = colonyChange(moved(k1, step / 2), rates);
    const k3 = colonyChange(moved(k2, step / 2), rates);
    const k4 = colonyChange(moved(k3, step), rates);
    at = {
      hive: at.hive + (step / 6) * (k1.hive + 2 * k2.hive + 2 * k3.hive + k4.hive),
      foragers: at.foragers + (step / 6) * (k1.foragers + 2 * k2.foragers + 2 * k3.foragers + k4.foragers),
    };
  }
  return at;
}

/** Size at which the colony neither grows nor shrinks; null where it can't hold itself. */
export function colonyEquilibrium(rates: ColonyRates): ColonySize | null {
  const { laying, halfCare, recruitment, inhibition, death } = rates;
  const excess = recruitment - inhibition - death;
  const ratio = (excess + Math.sqrt(excess ** 2 + 4 * death * recruitment)) / (2 * death);
  const hive = laying / (death * ratio) - halfCare / (1 + ratio);
  return hive > 0 ? { hive, foragers: ratio * hive } : null;
}

/** Death rate of foragers above which every colony dwindles, 1/d. */
export function collapseThreshold({
  laying,
  halfCare,
  recruitment,
  inhibition,
}: Omit<ColonyRates, 'death'>): number {
  const care = laying / halfCare;
  const root = Math.sqrt((recruitment - inhibition) ** 2 + 4 * care * inhibition);
  return ((care / 2) * (recruitment + inhibition + root)) / (recruitment - care);
}
