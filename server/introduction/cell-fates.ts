/**
 * What can become of one emergency cell, seen from a series of looks: at which of them it stands, and
 * whether it would give a virgin if every one of them missed it. Weights over starting times, larval ages,
 * speeds and tearing down come from the published figures.
 */
import { developmentMs } from '../biology/duration.ts';
import { eggStageDays, queenEmergesDays, startedOverLarvae, tornDownShare } from '../biology/figures.ts';

/** One class of fates: stands exactly at the looks `first..last` (`last < first`: at none). */
export interface Fate {
  readonly first: number;
  readonly last: number;
  /** Would emerge as a virgin if no look found it. */
  readonly dangerous: boolean;
  readonly weight: number;
}

/** Where cells come from: the loss of the queen, or a frame of young brood brought in. */
export interface Wave {
  readonly fromMs: number;
  readonly weight: number;
}

/**
 * Days from the loss at which cells are started, with the share of them. Fell and Morse 1984: first at
 * 12-48 h, most standing by day 3-4, new ones as late as day 8-9; the shares between are our reading.
 */
const starts: readonly { readonly day: number; readonly share: number }[] = [
  { day: 0.75, share: 0.13 },
  { day: 1.25, share: 0.2 },
  { day: 1.75, share: 0.2 },
  { day: 2.5, share: 0.2 },
  { day: 3.5, share: 0.12 },
  { day: 4.5, share: 0.07 },
  { day: 5.5, share: 0.05 },
  { day: 6.5, share: 0.03 },
];

/** Slow, usual and fast queens: 15, 16 and 17 days from laying. */
const speeds: readonly { readonly days: number; readonly share: number }[] = [
  { days: (queenEmergesDays.low ?? 15) + 0.25, share: 0.2 },
  { days: queenEmergesDays.value, share: 0.6 },
  { days: (queenEmergesDays.high ?? 17) - 0.25, share: 0.2 },
];

/** A torn-down cell goes at any point of its life with the same chance. */
const tearingSteps = 8;

interface Cell {
  readonly startMs: number;
  readonly emergesMs: number;
  readonly share: number;
}

/** Larval ages that are still to be had `day` days after the last egg, with shares that add up to one. */
function agesOn(day: number): readonly { readonly days: number; readonly share: number }[] {
  const youngest = day - eggStageDays.value;
  const left = startedOverLarvae
    .filter(({ toDays }) => toDays > youngest)
    .map(({ fromDays, toDays, share }) => ({
      days: (Math.max(fromDays, youngest) + toDays) / 2,
      share: share.value,
    }));
  const sum = left.reduce((total, { share }) => total + share, 0);
  return left.map(({ days, share }) => ({ days, share: share / sum }));
}

function* cells(wave: Wave): Generator<Cell> {
  for (const start of starts) {
    const startMs = wave.fromMs + developmentMs(start.day);
    for (const age of agesOn(start.day)) {
      for (const speed of speeds) {
        const remaining = speed.days - eggStageDays.value - age.days;
        yield {
          startMs,
          emergesMs: startMs + developmentMs(remaining),
          share: wave.weight * start.share * age.share * speed.share,
        };
      }
    }
  }
}

/** Fates of one cell drawn at random from the waves, for looks at these instants in ascending order. */
export function cellFates(waves: readonly Wave[], lookMs: readonly number[]): readonly Fate[] {
  const fates = new Map<string, Fate>();
  const add = (fromMs: number, untilMs: number, dangerous: boolean, weight: number): void => {
    const first = lookMs.findIndex((at) => at >= fromMs);
    const last = lookMs.findLastIndex((at) => at < untilMs);
    const stands = first >= 0 && last >= first;
    const fate = stands ? { first, last, dangerous, weight } : { first: 0, last: -1, dangerous, weight };
    const key = `${String(fate.first)} ${String(fate.last)} ${String(dangerous)}`;
    fates.set(key, { ...fate, weight: weight + (fates.get(key)?.weight ?? 0) });
  };
  for (const wave of waves) {
    for (const cell of cells(wave)) {
      add(cell.startMs, cell.emergesMs, true, cell.share * (1 - tornDownShare.value));
      const life = cell.emergesMs - cell.startMs;
      for (let step = 0; step < tearingSteps; step++) {
        const torn = cell.startMs + (life * (step + 0.5)) / tearingSteps;
        add(cell.startMs, torn, false, (cell.share * tornDownShare.value) / tearingSteps);
      }
    }
  }
  return [...fates.values()];
}
