/** What looks into the nuc tell of the queen that was let out. */
import { developmentMs } from '../../biology/duration.ts';
import { eggStageDays, highEnd } from '../../biology/figures.ts';
import { ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { IntroductionMethod } from '../log/facts.ts';
import { candyEatenMs, candyGoneMs, candyHoldsMs } from './candy.ts';
import type { QueenState } from './queen-state.ts';

/** A look that found her in the cage while the bees have their days for the candy: its course, and no look for her. */
export const behindCandy = (
  atMs: number,
  { cageEmpty, eggsSeen }: Pick<Look, 'cageEmpty' | 'eggsSeen'>,
  releasedAtMs: number,
  method: IntroductionMethod,
): boolean =>
  method === 'candy-cage' &&
  !cageEmpty &&
  !eggsSeen &&
  atMs >= releasedAtMs &&
  atMs < candyGoneMs(releasedAtMs);

type Fact<K extends EffectiveFact['fact']['kind']> = Extract<EffectiveFact['fact'], { kind: K }>;
type Inspection = Fact<'inspection'>;
export type Look = Pick<
  Fact<'looked-for-queen'>,
  'cageEmpty' | 'queenSeen' | 'eggsSeen' | 'sealedWorkerBroodSeen' | 'severalEggsACell' | 'eggsStand'
>;

/** Every frame was looked through, and a colony in which her eggs had been seen has none any more: a look for her that found nothing. */
export const noEggLeft = (
  { firstEggsAtMs }: QueenState,
  { youngestBrood, everyFrameChecked, beesShakenOff }: Inspection,
): boolean =>
  firstEggsAtMs !== null &&
  everyFrameChecked &&
  beesShakenOff &&
  (youngestBrood === 'sealed-only' || youngestBrood === 'none');

/** An inspection that met a laying queen tells of her what a look for her tells; while the candy holds it met another one. */
export const metHer = (atMs: number, { layingQueenSeen }: Inspection, releasedAtMs: number): boolean =>
  layingQueenSeen === true && atMs >= candyHoldsMs(releasedAtMs);

export const asLook = ({
  youngestBrood,
  severalEggsACell,
  eggsStand,
  layingQueenSeen,
}: Inspection): Look => ({
  cageEmpty: true,
  queenSeen: layingQueenSeen === true,
  eggsSeen: youngestBrood === 'eggs',
  sealedWorkerBroodSeen: false,
  severalEggsACell,
  eggsStand,
});

/** Eggs as a queen lays them, once she is out of her cage as a rule: nobody need have met her. */
export const sawHerEggs = (
  atMs: number,
  { youngestBrood, severalEggsACell, eggsStand }: Inspection,
  releasedAtMs: number,
): boolean =>
  youngestBrood === 'eggs' &&
  severalEggsACell !== true &&
  eggsStand !== 'walls' &&
  atMs >= candyEatenMs(releasedAtMs);

/** An egg of the queen before, or on a frame that was given, is not hatched yet: eggs that are seen are no proof. */
export function perhapsAnothers(facts: readonly EffectiveFact[], atMs: number): boolean {
  const sources = [
    ...ofKind(facts, 'split-made'),
    ...ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which !== 'virgin'),
    ...ofKind(facts, 'brood-frame-added').filter(({ fact }) => fact.brood === 'eggs-or-young-larvae'),
  ];
  const hatchedAfterMs = developmentMs(highEnd(eggStageDays));
  return sources.some((source) => source.atMs <= atMs && atMs < source.atMs + hatchedAfterMs);
}
