/** The trade: alerts on real hives beside chill nights warned an hour ahead, for several limits. */
import type { LimitChoices, LimitSettings } from '../../server/rules/engine/limits.ts';
import {
  chillNights,
  secondChill,
  secondWeak,
  simulatedChill,
  verdictOf,
  type ChillNight,
  type NightVerdict,
} from '../levels/chill-level.ts';
import { countAlerts } from './alert-counts.ts';
import type { Watched } from './watched-hive.ts';

export interface LimitRow {
  readonly name: string;
  readonly limits: LimitSettings;
}

const row = (name: string, farm: LimitChoices): LimitRow => ({ name, limits: { farm, sites: {}, nucs: {} } });
const short = { clearHoldMin: 30 };

/** The limits as they are delivered, and others on both sides of them. */
export const limitRows: readonly LimitRow[] = [
  row('clears after 30 min, 10 / 60 %', {
    'brood-chilling': { ...short, nowDoseKh: 3 },
    'chilling-ahead': { ...short, chancePct: 10, budgetPct: 10 },
    'chilling-tonight': { ...short, chancePct: 60 },
  }),
  row('10 / 60 %', {
    'chilling-ahead': { chancePct: 10, budgetPct: 10 },
    'chilling-tonight': { chancePct: 60 },
  }),
  row('15 (own), 10 (budget) / 80 %', { 'chilling-ahead': { chancePct: 15 } }),
  row('chosen: 20 (own), 10 (budget) / 80 %', {}),
  row('30 / 80 %', { 'chilling-ahead': { chancePct: 30 } }),
  row('40 / 90 %', {
    'chilling-ahead': { chancePct: 40, budgetPct: 40 },
    'chilling-tonight': { chancePct: 90 },
  }),
  row('chosen, dose from 6 and 12 °C·h', { 'brood-chilling': { sealedDoseKh: 6, nowDoseKh: 12 } }),
];

/** Nights of nucs with a cold spell ahead, and of ordinary ones. */
export interface Nights {
  readonly weak: readonly ChillNight[];
  readonly ordinary: readonly ChillNight[];
}

export const simulatedNights = (seeds: readonly number[]): Nights => ({
  weak: seeds.flatMap((seed) => chillNights(simulatedChill(seed, 'usual', 'cold-snap'))),
  ordinary: seeds.flatMap((seed) => chillNights(simulatedChill(seed, 'usual', 'clean'))),
});

export const secondNights = (seeds: readonly number[]): Nights => ({
  weak: secondWeak(seeds).flatMap(chillNights),
  ordinary: seeds.flatMap((seed) => chillNights(secondChill(seed, 'ordinary'))),
});

export interface TradeRow {
  readonly name: string;
  readonly perMonth: readonly number[];
  /** For each kind of nights: warned of those that chilled, false of the calm ones of ordinary nucs. */
  readonly nights: readonly {
    readonly warned: number;
    readonly chilled: number;
    readonly false: number;
    readonly calm: number;
  }[];
}

export function tradeRow(
  { name, limits }: LimitRow,
  sets: readonly (readonly Watched[])[],
  nights: readonly Nights[],
): TradeRow {
  const count = (verdicts: readonly NightVerdict[], one: NightVerdict): number =>
    verdicts.filter((verdict) => verdict === one).length;
  return {
    name,
    perMonth: sets.map((set) => countAlerts(set, 'at-stake', limits).perMonth),
    nights: nights.map(({ weak, ordinary }) => {
      const [ofWeak, ofOrdinary] = [weak, ordinary].map((all) =>
        all.map((night) => verdictOf(night, limits)),
      ) as [NightVerdict[], NightVerdict[]];
      const all = [...ofWeak, ...ofOrdinary];
      const warned = count(all, 'warned');
      const wrong = count(ofOrdinary, 'false');
      return {
        warned,
        chilled: warned + count(all, 'missed'),
        false: wrong,
        calm: wrong + count(ofOrdinary, 'calm'),
      };
    }),
  };
}
