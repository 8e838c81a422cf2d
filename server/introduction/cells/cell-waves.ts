/** What the log says about where queen cells came from and what looks found. */
import { developmentMs } from '../../biology/duration.ts';
import {
  emergedShellDays,
  lastCellsDays,
  lostAtSplitShare,
  queenEmergesDays,
  rearableLimitDays,
  startedAgainShare,
  swarmCellsUnlookedShare,
  unfinishedCutShare,
  unshakenLookShare,
  highEnd,
} from '../../biology/figures.ts';
import { dayNumber } from '../calendar.ts';
import type { Wave } from './cell-fates.ts';
import { lastOf, ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { Evidence } from '../brood/evidence.ts';
import { livingCells, oneVisit, type CellLook } from '../log/looks.ts';
import { lossOf, type Loss } from '../log/loss.ts';
import type { IntroductionSetup } from '../log/setup.ts';
import type { CellRecord } from './cell-likelihood.ts';
import { widePrior } from './standing-cells.ts';
import { testFrames } from '../log/test-frames.ts';
import type { LookFound } from './thinning.ts';

/** What the record is taken from. */
export interface CellsKnown {
  readonly setup: IntroductionSetup;
  readonly facts: readonly EffectiveFact[];
  readonly evidence: Evidence;
  readonly looks: { readonly all: readonly CellLook[] };
}

/** A loss whose instant is not known, spread over the span that the evidence leaves. */
function spreadOut(fromMs: number, untilMs: number, weight: number): readonly Wave[] {
  /** Method: instants that stand for the span; more change no chance by 0.1 %. */
  const parts = 5;
  return Array.from({ length: parts }, (_, i) => {
    const atMs = fromMs + ((untilMs - fromMs) * i) / (parts - 1);
    return { fromMs: atMs, after: 'loss', eggMs: atMs, weight: weight / parts };
  });
}

const lossAt = (atMs: number): Wave => ({ fromMs: atMs, after: 'loss', eggMs: atMs, weight: 1 });

/** The old queen was found and taken away: she was in it until then. */
const oldQueenTakenMs = (facts: readonly EffectiveFact[]): number | undefined =>
  lastOf(ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which === 'old-queen'))?.atMs;

function lossWaves({ evidence, facts, looks }: CellsKnown, loss: Loss | null): readonly Wave[] {
  const takenMs = oldQueenTakenMs(facts);
  if (takenMs !== undefined) return [lossAt(takenMs)];
  if (loss?.sure) return [lossAt(loss.atMs)];
  const { queenlessSince, lastFertileEgg } = evidence;
  const firstLook = looks.all[0]?.atMs ?? loss?.atMs ?? facts[0]?.atMs ?? 0;
  // A queen that lays goes on laying: she was lost by the last egg.
  const bounds = [queenlessSince.latestMs, lastFertileEgg.latestMs].filter((ms) => ms !== null);
  const latest = bounds.length > 0 ? Math.min(...bounds) : firstLook;
  if (loss && latest > loss.atMs) {
    const atSplit = { ...lossAt(loss.atMs), weight: lostAtSplitShare.value };
    return [atSplit, ...spreadOut(loss.atMs, latest, 1 - lostAtSplitShare.value)];
  }
  const from = loss?.atMs ?? queenlessSince.earliestMs ?? latest - developmentMs(lastCellsDays.value);
  return latest > from ? spreadOut(from, latest, 1) : [lossAt(from)];
}

/** The last fertile egg as it was then, test frames left out; null where nothing bounds it. */
export function lastEggBefore(
  atMs: number,
  { evidence, facts }: Pick<CellsKnown, 'evidence' | 'facts'>,
): number | null {
  const { firstLastEggMs, laterLosses } = evidence;
  if (firstLastEggMs === null) return null;
  const brought = ofKind(facts, 'brood-frame-added').filter(
    ({ fact }) => !fact.asTestFrame && fact.brood !== 'sealed-only',
  );
  const later = [...laterLosses, ...brought.map((frame) => frame.atMs)].filter((ms) => ms <= atMs);
  return Math.max(firstLastEggMs, ...later);
}

/** Cells started again after a cut: over the larvae of the last egg, which where nobody saw her leave was most often that of the split. */
function startedAgain(known: CellsKnown, loss: Loss | null, atMs: number): readonly Wave[] {
  const { firstLastEggMs, likelyLastEggMs } = known.evidence;
  const latestMs = lastEggBefore(atMs, known) ?? atMs;
  const unsure = loss?.sure === false && likelyLastEggMs !== null && likelyLastEggMs < latestMs;
  const eggs =
    unsure && latestMs === firstLastEggMs
      ? [
          { eggMs: likelyLastEggMs, share: lostAtSplitShare.value },
          { eggMs: latestMs, share: 1 - lostAtSplitShare.value },
        ]
      : [{ eggMs: latestMs, share: 1 }];
  return eggs
    .filter(({ eggMs }) => atMs < eggMs + developmentMs(highEnd(rearableLimitDays)))
    .map(({ eggMs, share }) => ({
      fromMs: atMs,
      after: 'cut',
      eggMs,
      weight: startedAgainShare.value * share,
    }));
}

/** Every wave in which emergency cells can have been started. */
function wavesOf(known: CellsKnown, loss: Loss | null): readonly Wave[] {
  const { facts, looks, evidence } = known;
  const brought = ofKind(facts, 'brood-frame-added').filter(
    ({ fact }) => !fact.asTestFrame && fact.brood !== 'sealed-only',
  );
  const again = { weight: startedAgainShare.value };
  const cuts = looks.all.filter((look) => look.cut && livingCells(look) > 0);
  return [
    ...lossWaves(known, loss),
    ...evidence.laterLosses.map(lossAt),
    ...brought.map(({ atMs }) => ({ ...again, fromMs: atMs, after: 'frame' as const, eggMs: atMs })),
    ...cuts.flatMap(({ atMs }) => startedAgain(known, loss, atMs)),
  ];
}

/** Swarm cells that may have stood when the bees lost their queen. */
const swarmChance: Readonly<Record<Loss['cellsAlreadyThere'], number>> = {
  none: 0,
  'present-and-removed': 1,
  'present-and-left': 1,
  'not-looked': swarmCellsUnlookedShare.value,
};

/** Taking swarm cells out was a look like any other: its misses stand. A whole look the same day is the same one. */
function takenOut(loss: Loss | null, first: LookFound | undefined, timeZone: string): readonly LookFound[] {
  if (loss?.cellsAlreadyThere !== 'present-and-removed') return [];
  if (first && dayNumber(loss.atMs, first.atMs, timeZone) === 0) return [];
  return [{ atMs: loss.atMs, cells: loss.cellsTakenOut, emerged: null, virginSought: false }];
}

/** Share of the cells that a look covers; null where it says nothing about those that it did not find. */
function coverage(look: CellLook): number | null {
  if (look.complete) return 1;
  // A look in passing may have been at one frame, and for something else; who cuts was after cells.
  if (look.glance || !look.counted || !look.cut) return null;
  const left = look.framesLeftShare ?? 1 - unfinishedCutShare.value;
  return (look.everyFrame ? 1 : 1 - left) * (look.shaken ? 1 : unshakenLookShare.value);
}

/** Of two looks of one visit the one that saw more; null where neither counted. */
const most = (a: number | null, b: number | null): number | null =>
  a === null ? b : b === null ? a : Math.max(a, b);

/**
 * What was torn down by the look before may hang still: only what is more than that is new; null where none need be.
 * Of remains that last for any time up to the longest alike, those seen at one instant hang on with the square of what is left of it.
 */
function newlyTornDown({ atMs, tornDown }: Required<LookFound>, before?: Required<LookFound>): number | null {
  const left = before ? 1 - (atMs - before.atMs) / developmentMs(highEnd(emergedShellDays)) : 0;
  const hangs = Math.round((before?.tornDown ?? 0) * Math.max(0, left) ** 2);
  if (tornDown === null || hangs === 0) return tornDown;
  return tornDown > hangs ? tornDown - hangs : null;
}

/** Looks of one day, or within a visit across midnight, are one look: what the first passed over, the second does too. */
function visits({ looks, setup }: CellsKnown): readonly LookFound[] {
  const merged: Required<LookFound>[] = [];
  for (const look of looks.all) {
    const share = coverage(look);
    // Cells that were seen and left are not found yet: those who see them again count them again.
    if (share === null || (!look.cut && livingCells(look) > 0)) continue;
    const found = {
      atMs: look.atMs,
      cells: livingCells(look),
      emerged: look.shellsCounted ? look.cells.emerged : null,
      tornDown: look.tornDownCounted ? look.cells.tornDown : null,
      share,
      virginSought: look.virginSeen !== null,
    };
    const last = merged.at(-1);
    const same =
      last !== undefined &&
      (look.atMs - last.atMs < oneVisit || dayNumber(last.atMs, look.atMs, setup.timeZone) === 0);
    if (!same) merged.push(found);
    else {
      merged[merged.length - 1] = {
        atMs: last.atMs,
        cells: (last.cells ?? 0) + found.cells,
        emerged: most(last.emerged, found.emerged),
        tornDown: most(last.tornDown, found.tornDown),
        share: Math.max(last.share, share),
        virginSought: last.virginSought || found.virginSought,
      };
    }
  }
  return merged.map((look, i) => ({ ...look, tornDown: newlyTornDown(look, merged[i - 1]) }));
}

/**
 * Living cells found when every older one had emerged come from the frame that was brought in after the last larva of
 * before was too old: no queen of any kind was there then. Null where that is not so.
 */
function cellsOnBroughtFrameMs({ facts, evidence, looks }: CellsKnown): number | null {
  const { firstLastEggMs } = evidence;
  if (firstLastEggMs === null) return null;
  const allOutMs = firstLastEggMs + developmentMs(highEnd(queenEmergesDays));
  const tooOldMs = firstLastEggMs + developmentMs(highEnd(rearableLimitDays));
  const answered = ofKind(facts, 'brood-frame-added').filter(
    ({ atMs, fact }) =>
      fact.brood !== 'sealed-only' &&
      atMs >= tooOldMs &&
      looks.all.some((look) => look.atMs > Math.max(atMs, allOutMs) && livingCells(look) > 0),
  );
  // The first: cells seen after a second frame may be those of the one before.
  return answered[0]?.atMs ?? null;
}

/** Virgins were taken away of whose cells no shell was found. */
function virginWithoutShell({ facts, looks }: CellsKnown): boolean {
  const virgins = ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which === 'virgin');
  const shells = looks.all.reduce((sum, look) => sum + look.cells.emerged, 0);
  return virgins.length > shells;
}

/** What the posterior of missed cells rests on, from the log. */
export function cellRecord(known: CellsKnown): CellRecord {
  const { facts, setup } = known;
  const loss = lossOf(facts);
  const tested = lastOf(testFrames(facts).filter((frame) => frame.answer === 'no-queen'));
  const taken = lastOf(ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which !== 'old-queen'));
  const seen = visits(known);
  const onFrameMs = cellsOnBroughtFrameMs(known);
  const noVirginAtMs = tested || onFrameMs !== null ? Math.max(tested?.inMs ?? 0, onFrameMs ?? 0) : null;
  const chance = loss ? swarmChance[loss.cellsAlreadyThere] : 0;
  return {
    waves: wavesOf(known, loss),
    looks: [...takenOut(loss, seen[0], setup.timeZone), ...seen],
    missRate: setup.missRate ?? widePrior,
    ...(loss && chance > 0 ? { swarm: { atMs: loss.atMs, chance } } : {}),
    ...(noVirginAtMs === null ? {} : { noVirginAtMs }),
    ...(taken ? { settledAtMs: taken.atMs, virginTaken: virginWithoutShell(known) } : {}),
  };
}
