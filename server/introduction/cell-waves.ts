/** What the log says about where queen cells came from and what complete looks found. */
import { developmentMs } from '../biology/duration.ts';
import {
  cellsPerColony,
  lastCellsDays,
  startedAgainShare,
  swarmCellAgeDays,
  swarmCellsAtSplit,
  tornDownShare,
  highEnd,
  lowEnd,
} from '../biology/figures.ts';
import { dayNumber } from './calendar.ts';
import type { Wave } from './cell-fates.ts';
import { lastOf, ofKind } from './effective-facts.ts';
import { livingCells, oneVisit } from './looks.ts';
import { widePrior, type CellRecord, type LookFound } from './standing-cells.ts';
import type { IntroductionState } from './state.ts';

/** A loss whose instant is not known, spread over the span that the evidence leaves. */
function spreadOut(fromMs: number, untilMs: number, weight: number): readonly Wave[] {
  const parts = 5;
  return Array.from({ length: parts }, (_, i) => {
    const atMs = fromMs + ((untilMs - fromMs) * i) / (parts - 1);
    return { fromMs: atMs, after: 'loss', eggMs: atMs, weight: weight / parts };
  });
}

/** Where the old queen was not seen at the split, she is most often in the parent colony. */
const lostAtSplit = 0.8;

function lossWaves(state: IntroductionState): readonly Wave[] {
  const { queenlessSince, lastFertileEgg } = state.evidence;
  const firstLook = state.looks.all[0]?.atMs ?? state.nowMs;
  const latest = queenlessSince.latestMs ?? lastFertileEgg.latestMs ?? firstLook;
  const splitMs = state.split?.atMs;
  if (splitMs !== undefined && queenlessSince.earliestMs !== splitMs && latest > splitMs) {
    const atSplit = { fromMs: splitMs, after: 'loss' as const, eggMs: splitMs, weight: lostAtSplit };
    return [atSplit, ...spreadOut(splitMs, latest, 1 - lostAtSplit)];
  }
  const from = queenlessSince.earliestMs ?? latest - developmentMs(lastCellsDays.value);
  return latest > from
    ? spreadOut(from, latest, 1)
    : [{ fromMs: from, after: 'loss', eggMs: from, weight: 1 }];
}

/** Cells that stood before the loss and were left, for one that is started after it; their middle age. */
const fromBefore = { weight: 0.25, days: 6 };

function wavesBefore({ split, virgin, setup }: IntroductionState): readonly Wave[] {
  if (!split) return [];
  const fromMs = split.atMs - developmentMs(fromBefore.days);
  if (virgin.cellsFromBefore) return [{ fromMs, after: 'loss', eggMs: fromMs, weight: fromBefore.weight }];
  if (split.cellsAlreadyThere !== 'present-and-removed') return [];
  // Taking them out was a look like any other: its misses stand.
  const { alpha, beta } = setup.missRate ?? widePrior;
  const missed = (swarmCellsAtSplit.value / cellsPerColony.value) * (alpha / (alpha + beta));
  const youngest = split.atMs - developmentMs(lowEnd(swarmCellAgeDays));
  const oldest = split.atMs - developmentMs(highEnd(swarmCellAgeDays));
  // Bees tear down emergency cells, hardly those of a swarm.
  return spreadOut(oldest, youngest, missed / (1 - tornDownShare.value));
}

/** Every wave in which cells can have been started. */
function wavesOf(state: IntroductionState): readonly Wave[] {
  const { facts, looks, windows, evidence, nowMs } = state;
  const eggMs = evidence.lastFertileEgg.latestMs ?? nowMs;
  const rearableUntil = windows.nothingRearableFromMs ?? Infinity;
  const brought = ofKind(facts, 'brood-frame-added').filter(
    ({ fact }) => !fact.asTestFrame && fact.brood !== 'sealed-only',
  );
  const cuts = looks.all.filter((look) => look.cut && livingCells(look) > 0 && look.atMs < rearableUntil);
  return [
    ...lossWaves(state),
    ...wavesBefore(state),
    ...brought.map(({ atMs }) => ({
      fromMs: atMs,
      after: 'frame' as const,
      eggMs: atMs,
      weight: startedAgainShare.value,
    })),
    ...cuts.map(({ atMs }) => ({
      fromMs: atMs,
      after: 'cut' as const,
      eggMs,
      weight: startedAgainShare.value,
    })),
  ];
}

/** Looks of one day, or within a visit across midnight, are one look: what the first passed over, the second does too. */
function visits({ looks, setup }: IntroductionState): readonly LookFound[] {
  const merged: LookFound[] = [];
  for (const look of looks.complete) {
    const found = { atMs: look.atMs, cells: livingCells(look), emerged: look.cells.emerged };
    const last = merged.at(-1);
    const same =
      last !== undefined &&
      (look.atMs - last.atMs < oneVisit || dayNumber(last.atMs, look.atMs, setup.timeZone) === 0);
    if (!same) merged.push(found);
    else {
      merged[merged.length - 1] = {
        atMs: last.atMs,
        cells: last.cells + found.cells,
        emerged: Math.max(last.emerged, found.emerged),
      };
    }
  }
  return merged;
}

/** What the posterior of missed cells rests on, from the log. */
export function cellRecord(state: IntroductionState): CellRecord {
  const tested = lastOf(state.testFrames.filter((frame) => frame.answer === 'no-queen'));
  return {
    waves: wavesOf(state),
    looks: visits(state),
    missRate: state.setup.missRate ?? widePrior,
    ...(tested ? { noVirginAtMs: tested.inMs } : {}),
  };
}
