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
  highEnd,
  lowEnd,
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
  { days: lowEnd(queenEmergesDays) + 0.25, share: 0.2 },
  { days: queenEmergesDays.value, share: 0.6 },
  { days: highEnd(queenEmergesDays) - 0.25, share: 0.2 },
];

/** A shell lasts for any time up to the longest with the same chance. */
const longestShellMs = developmentMs(highEnd(emergedShellDays));

/** Middle of the spread of the egg stage. */
const eggDays = (lowEnd(eggStageDays) + highEnd(eggStageDays)) / 2;

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

/** Adds up weights by (first, end, shellEnd, ending). */
class FateCounter {
  readonly #looks: readonly number[];
  readonly #noVirginAtMs: number;
  readonly #side: number;
  readonly #weights: Float64Array;

  constructor(looks: readonly number[], noVirginAtMs: number) {
    this.#looks = looks;
    this.#noVirginAtMs = noVirginAtMs;
    this.#side = looks.length + 1;
    this.#weights = new Float64Array(this.#side ** 3 * endings.length);
  }

  #add(first: number, end: number, shellEnd: number, ending: number, weight: number): void {
    const index = ((first * this.#side + end) * this.#side + shellEnd) * endings.length + ending;
    this.#weights[index] = (this.#weights[index] ?? 0) + weight;
  }

  /** Index of the first look at `ms` or later, from look `from` on. */
  #lookFrom(from: number, ms: number): number {
    let look = from;
    while (look < this.#looks.length && (this.#looks[look] ?? 0) < ms) look++;
    return look;
  }

  /**
   * For an instant that lies anywhere from `fromMs` to `untilMs` with the same chance: before which look it
   * falls, with the chance. `first` is the first look at `fromMs` or later.
   */
  #eachSpan(
    first: number,
    fromMs: number,
    untilMs: number,
    add: (look: number, chance: number) => void,
  ): void {
    let beginMs = fromMs;
    for (let look = first; beginMs < untilMs; look++) {
      const endMs = Math.min(this.#looks[look] ?? Infinity, untilMs);
      if (endMs > beginMs) add(look, (endMs - beginMs) / (untilMs - fromMs));
      beginMs = endMs;
    }
  }

  /** A cell started at `startMs`: it emerges and leaves a shell, or is torn down at any point of its life. */
  count(startMs: number, emergesMs: number, share: number): void {
    const first = this.#lookFrom(0, startMs);
    const end = this.#lookFrom(first, emergesMs);
    const ending = emergesMs < this.#noVirginAtMs ? 2 : 0;
    const emerging = share * (1 - tornDownShare.value);
    this.#eachSpan(end, emergesMs, emergesMs + longestShellMs, (shellEnd, chance) => {
      this.#add(first, end, shellEnd, ending, emerging * chance);
    });
    const torn = share * tornDownShare.value;
    this.#eachSpan(first, startMs, emergesMs, (tornBefore, chance) => {
      this.#add(first, tornBefore, tornBefore, 1, torn * chance);
    });
  }

  fates(): readonly Fate[] {
    const fates: Fate[] = [];
    this.#weights.forEach((weight, index) => {
      if (weight === 0) return;
      const place = Math.floor(index / endings.length);
      fates.push({
        first: Math.floor(place / this.#side ** 2),
        end: Math.floor(place / this.#side) % this.#side,
        shellEnd: place % this.#side,
        ends: endings[index % endings.length] ?? 'virgin',
        weight,
      });
    });
    return fates;
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
  const counter = new FateCounter(lookMs, noVirginAtMs);
  for (const wave of waves) {
    for (const start of wave.after === 'loss' ? startsAfterLoss : startsAgain) {
      const startMs = wave.fromMs + developmentMs(start.day);
      for (const age of agesOn((startMs - wave.eggMs) / developmentMs(1))) {
        for (const speed of speeds) {
          const emergesMs = startMs + developmentMs(speed.days - eggDays - age.days);
          counter.count(startMs, emergesMs, wave.weight * start.share * age.share * speed.share);
        }
      }
    }
  }
  return counter.fates();
}
