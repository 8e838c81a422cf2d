/** Sights of the youngest brood in the log, and how old brood is that a keeper calls so. */
import { developmentMs } from '../../biology/duration.ts';
import {
  droneSealedDays,
  eggStageDays,
  workerEmergesDays,
  workerSealedDays,
  youngLarvaUntilDays,
  type Figure,
  highEnd,
  lowEnd,
} from '../../biology/figures.ts';
import type { EffectiveFact } from '../log/effective-facts.ts';
import type { EggPlace, YoungestBrood } from '../log/facts.ts';
import type { TimeOut } from '../queen/queen-state.ts';

const low = (figure: Figure): number => developmentMs(lowEnd(figure));
export const high = (figure: Figure): number => developmentMs(highEnd(figure));

/** Youngest and oldest age, from laying, of brood that a keeper calls so. Null: no bound on that side. */
export const ages: Readonly<
  Record<Exclude<YoungestBrood, 'not-looked'>, { readonly from: number; readonly to: number | null }>
> = {
  eggs: { from: 0, to: high(eggStageDays) },
  'young-larvae': { from: low(eggStageDays), to: high(youngLarvaUntilDays) },
  // The last open brood is that of drones.
  'old-larvae': { from: low(youngLarvaUntilDays), to: high(droneSealedDays) },
  'sealed-only': { from: low(workerSealedDays), to: high(workerEmergesDays) },
  none: { from: low(workerEmergesDays), to: null },
};

export const inWords: Readonly<Record<Exclude<YoungestBrood, 'not-looked'>, string>> = {
  eggs: 'eggs',
  'young-larvae': 'young larvae',
  'old-larvae': 'only larvae near sealing',
  'sealed-only': 'only sealed brood',
  none: 'no brood',
};

export interface BroodSight {
  readonly atMs: number;
  readonly youngLarvaInOpenCell: boolean;
  readonly factId: string;
  /** Null where nobody looked for it. */
  readonly youngest: Exclude<YoungestBrood, 'not-looked'> | null;
  readonly everyFrame: boolean;
  readonly shaken: boolean;
  /** A queen that was brought could lay then: what is young is hers. */
  readonly hers: boolean;
  /** Eggs stand under the mesh over her, and no egg anywhere else. */
  readonly noEggElse: boolean;
}

type Searched = Extract<EffectiveFact['fact'], { kind: 'inspection' | 'cells-cut' }>;

/** No egg nor young larva but those of a queen under her mesh. */
export const nothingYoungSeen = ({ youngestBrood, eggsOutsideMesh }: Searched): boolean =>
  youngestBrood === 'eggs' || youngestBrood === 'young-larvae'
    ? eggsOutsideMesh === false
    : youngestBrood !== 'not-looked';

const within = (atMs: number, { fromMs, untilMs }: TimeOut): boolean =>
  atMs > fromMs && atMs <= (untilMs ?? Infinity);

/** Brood older than her time here is not hers, and neither is an empty nest. */
const canBeHers = (youngest: BroodSight['youngest'], sinceMs: number): boolean =>
  youngest === null || (youngest !== 'none' && ages[youngest].from <= sinceMs);

/** Several in a cell, or on its walls. */
const notAQueens = (fact: {
  readonly severalEggsACell?: boolean | undefined;
  readonly eggsStand?: EggPlace | undefined;
}): boolean => fact.severalEggsACell === true || fact.eggsStand === 'walls';

/** Sights of the youngest brood, of eggs a queen's alone. */
export function broodSights(
  facts: readonly EffectiveFact[],
  couldLay: readonly TimeOut[],
): readonly BroodSight[] {
  const sights: BroodSight[] = [];
  for (const { id, atMs, fact } of facts) {
    const inTime = couldLay.some((time) => within(atMs, time));
    const common = { atMs, factId: id };
    if (fact.kind === 'looked-for-queen' && fact.eggsSeen && !notAQueens(fact)) {
      const glance = { youngLarvaInOpenCell: false, everyFrame: false, shaken: false };
      // The look that finds her cage empty sees her eggs.
      const hers = inTime || couldLay.some(({ fromMs }) => fromMs === atMs);
      sights.push({ youngest: 'eggs', hers, noEggElse: false, ...common, ...glance });
    }
    if (fact.kind !== 'inspection' && fact.kind !== 'cells-cut') continue;
    const youngLarvaInOpenCell = fact.kind === 'cells-cut' && fact.youngLarvaInOpenCell;
    const youngest = fact.youngestBrood === 'not-looked' ? null : fact.youngestBrood;
    if (notAQueens(fact) || (youngest === null && !youngLarvaInOpenCell)) continue;
    const { everyFrameChecked: everyFrame, beesShakenOff: shaken } = fact;
    // The look that meets one that flew off sees her eggs.
    const cameBack = fact.kind === 'inspection' && fact.layingQueenSeen === true;
    const hers =
      fact.eggsOutsideMesh !== true &&
      couldLay.some(
        (time) =>
          (within(atMs, time) || (cameBack && time.fromMs === atMs)) &&
          canBeHers(youngest, atMs - time.fromMs),
      );
    const noEggElse = hers && youngest === 'eggs' && fact.eggsOutsideMesh === false;
    sights.push({ youngest, youngLarvaInOpenCell, everyFrame, shaken, hers, noEggElse, ...common });
  }
  return sights;
}
