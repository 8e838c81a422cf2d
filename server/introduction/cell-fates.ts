/**
 * What can become of one emergency cell, seen from a series of looks: at which of them it stands, at which
 * only its shell is left, and whether a virgin comes from it if every look passed it over. Weights over
 * starting times, larval ages, speeds and tearing down come from the published figures.
 */
import { developmentMs } from '../biology/duration.ts';
import {
  eggStageDays,
  emergedShellDays,
  queenEmergesDays,
  startedOverLarvae,
  tornDownShare,
} from '../biology/figures.ts';

/** One class of fates, as half-open ranges of looks. */
export interface Fate {
  /** It stands at the looks `first..end - 1`. */
  readonly first: number;
  readonly end: number;
  /** Its opened shell hangs at the looks `end..shellEnd - 1`. */
  readonly shellEnd: number;
  /**
   * `virgin`: she emerges if no look finds the cell; `torn-down`: the bees take it down; `excluded`: a
   * virgin that a test frame has shown not to be there.
   */
  readonly ends: 'virgin' | 'torn-down' | 'excluded';
  readonly weight: number;
}

/** Where cells come from: the loss of the queen, a cut after which new ones are started, a frame brought in. */
export interface Wave {
  readonly fromMs: number;
  /** After a loss the first cells follow half a day later; bees that know of it start sooner. */
  readonly after: 'loss' | 'cut' | 'frame';
  /** The last fertile egg: it says which larval ages are left. */
  readonly eggMs: number;
  /** How many cells of this wave there are for one of the first. */
  readonly weight: number;
}

interface Start {
  readonly day: number;
  readonly share: number;
}

/**
 * Days from the loss at which cells are started, with the share of them. Fell and Morse 1984: first at
 * 12-48 h, most standing by day 3-4, new ones as late as day 8-9; the shares between are our reading.
 */
const startsAfterLoss: readonly Start[] = [
  { day: 0.75, share: 0.13 },
  { day: 1.25, share: 0.2 },
  { day: 1.75, share: 0.2 },
  { day: 2.5, share: 0.2 },
  { day: 3.5, share: 0.12 },
  { day: 4.5, share: 0.07 },
  { day: 5.5, share: 0.05 },
  { day: 6.5, share: 0.02 },
  { day: 7.1, share: 0.01 },
];

/** The same after a cut, or on a frame brought in: no source, the first within hours. */
const startsAgain: readonly Start[] = [
  { day: 0.15, share: 0.005 },
  { day: 0.3, share: 0.01 },
  { day: 0.5, share: 0.035 },
  { day: 0.75, share: 0.07 },
  { day: 1.1, share: 0.18 },
  { day: 1.6, share: 0.2 },
  { day: 2.2, share: 0.15 },
  { day: 3, share: 0.2 },
  { day: 4.5, share: 0.15 },
];

/** Slow, usual and fast queens within 15-17 days from laying. */
const speeds: readonly { readonly days: number; readonly share: number }[] = [
  { days: (queenEmergesDays.low ?? 15) + 0.25, share: 0.2 },
  { days: queenEmergesDays.value, share: 0.6 },
  { days: (queenEmergesDays.high ?? 17) - 0.25, share: 0.2 },
];

/** A torn-down cell goes at any point of its life with the same chance. */
const tearingSteps = 8;

/** Shells last for any time up to the longest with the same chance. */
const shellSteps = 4;
const shellMs = Array.from({ length: shellSteps }, (_, step) =>
  developmentMs(((emergedShellDays.high ?? emergedShellDays.value) * (step + 0.5)) / shellSteps),
);

/** Middle of the spread of the egg stage. */
const eggDays = ((eggStageDays.low ?? eggStageDays.value) + (eggStageDays.high ?? eggStageDays.value)) / 2;

/** Larval ages that are still to be had `day` days after the last egg, with shares that add up to one. */
function agesOn(day: number): readonly { readonly days: number; readonly share: number }[] {
  const youngest = day - eggDays;
  const left = startedOverLarvae
    .filter(({ toDays }) => toDays > youngest)
    .map(({ fromDays, toDays, share }) => ({
      days: (Math.max(fromDays, youngest) + toDays) / 2,
      share: share.value,
    }));
  const sum = left.reduce((total, { share }) => total + share, 0);
  return left.map(({ days, share }) => ({ days, share: share / sum }));
}

/** One class of cells: stands from `startMs` until it emerges or is torn down, its shell until `shellUntilMs`. */
type VisitLife = (
  startMs: number,
  untilMs: number,
  shellUntilMs: number,
  emerges: boolean,
  share: number,
) => void;

function eachLife(wave: Wave, starts: readonly Start[], visit: VisitLife): void {
  for (const start of starts) {
    const startMs = wave.fromMs + developmentMs(start.day);
    for (const age of agesOn((startMs - wave.eggMs) / developmentMs(1))) {
      for (const speed of speeds) {
        const lengthMs = developmentMs(speed.days - eggDays - age.days);
        eachEnd(startMs, lengthMs, wave.weight * start.share * age.share * speed.share, visit);
      }
    }
  }
}

/** A cell emerges and leaves a shell for some time, or is torn down at any point of its life. */
function eachEnd(startMs: number, lengthMs: number, share: number, visit: VisitLife): void {
  const emergesMs = startMs + lengthMs;
  const emerging = (share * (1 - tornDownShare.value)) / shellSteps;
  for (const shell of shellMs) visit(startMs, emergesMs, emergesMs + shell, true, emerging);
  const torn = (share * tornDownShare.value) / tearingSteps;
  for (let step = 0; step < tearingSteps; step++) {
    const untilMs = startMs + (lengthMs * (step + 0.5)) / tearingSteps;
    visit(startMs, untilMs, untilMs, false, torn);
  }
}

const endings = ['virgin', 'torn-down', 'excluded'] as const;

/**
 * Fates of the cells of the waves, for looks at these instants in ascending order. Virgins that would have
 * emerged before `noVirginAtMs` are excluded: a test frame showed then that none was there.
 */
export function cellFates(
  waves: readonly Wave[],
  lookMs: readonly number[],
  noVirginAtMs = -Infinity,
): readonly Fate[] {
  const n = lookMs.length;
  const side = n + 1;
  const weights = new Float64Array(side * side * side * endings.length);
  const firstLookFrom = (from: number, ms: number): number => {
    let look = from;
    while (look < n && (lookMs[look] ?? 0) < ms) look++;
    return look;
  };
  const count: VisitLife = (startMs, untilMs, shellUntilMs, emerges, share) => {
    const first = firstLookFrom(0, startMs);
    const end = firstLookFrom(first, untilMs);
    const shellEnd = firstLookFrom(end, shellUntilMs);
    const ending = !emerges ? 1 : untilMs < noVirginAtMs ? 2 : 0;
    const index = ((first * side + end) * side + shellEnd) * endings.length + ending;
    weights[index] = (weights[index] ?? 0) + share;
  };
  for (const wave of waves) eachLife(wave, wave.after === 'loss' ? startsAfterLoss : startsAgain, count);
  const fates: Fate[] = [];
  weights.forEach((weight, index) => {
    if (weight === 0) return;
    const place = Math.floor(index / endings.length);
    fates.push({
      first: Math.floor(place / (side * side)),
      end: Math.floor(place / side) % side,
      shellEnd: place % side,
      ends: endings[index % endings.length] ?? 'virgin',
      weight,
    });
  });
  return fates;
}
