/**
 * What can become of one emergency cell, seen from a series of looks: at which of them it stands, at which
 * only its shell is left, and whether a virgin comes from it if every look passed it over. Weights over
 * starting times, larval ages, speeds and tearing down come from the published figures.
 */
import { developmentMs } from '../../biology/duration.ts';
import {
  eggStageDays,
  emergedShellDays,
  queenEmergesDays,
  queenSpeeds,
  startedOverLarvae,
  startsAfterLoss,
  startsAgain,
  swarmCellAgeDays,
  tornDownShare,
  highEnd,
  lowEnd,
} from '../../biology/figures.ts';

/** One class of fates, as half-open ranges of looks. */
export interface Fate {
  /** It stands at the looks `first..end - 1`. */
  readonly first: number;
  readonly end: number;
  /** What is left of it, opened or torn down, hangs at the looks `end..shellEnd - 1`. */
  readonly shellEnd: number;
  /**
   * `virgin`: she emerges if no look finds the cell; `torn-down`: the bees take it down; `excluded`: a
   * virgin that a test frame has shown not to be there; `settled`: one that was found and taken away, or killed by it.
   */
  readonly ends: 'virgin' | 'torn-down' | 'excluded' | 'settled';
  readonly weight: number;
}

/**
 * Where cells come from: the loss of the queen, a cut after which new ones are started, a frame brought in; or they
 * are swarm cells of any age that stood already.
 */
export interface Wave {
  readonly fromMs: number;
  /** After a loss the first cells follow half a day later; bees that know of it start sooner. */
  readonly after: 'loss' | 'cut' | 'frame' | 'swarm';
  /** The last fertile egg: it says which larval ages are left. */
  readonly eggMs: number;
  /** How many cells of this wave there are for one of the first. */
  readonly weight: number;
}

/** Slow, usual and fast queens within 15-17 days from laying. */
const speeds = queenSpeeds.map(({ insideDays, share }) => ({
  days: lowEnd(queenEmergesDays) + insideDays,
  share,
}));

/** A shell, or what is left of a cell that was torn down, lasts for any time up to the longest with the same chance. */
const longestShellMs = developmentMs(highEnd(emergedShellDays));

/** Method: instants that stand for all of a cell's life, at any of which it may be torn down. */
const tornInstants = 8;

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
  readonly #known: VirginsKnown;
  readonly #side: number;
  readonly #weights: Float64Array;

  constructor(looks: readonly number[], known: VirginsKnown) {
    this.#looks = looks;
    this.#known = known;
    this.#side = looks.length + 1;
    this.#weights = new Float64Array(this.#side * this.#side * this.#side * endings.length);
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

  #ending(emergesMs: number): number {
    const { noneAtMs, settledAtMs } = this.#known;
    const settled = emergesMs < settledAtMs;
    // That none was loose after one was taken away says nothing of those before.
    if (settled && settledAtMs <= noneAtMs) return settledEnding;
    if (emergesMs < noneAtMs) return excludedEnding;
    return settled ? settledEnding : 0;
  }

  /** It emerges and leaves a shell, or is torn down at any point of its life. */
  count({ startMs, emergesMs, share, tornShare }: OneCell): void {
    const first = this.#lookFrom(0, startMs);
    const end = this.#lookFrom(first, emergesMs);
    const ending = this.#ending(emergesMs);
    const emerging = share * (1 - tornShare);
    this.#eachSpan(end, emergesMs, emergesMs + longestShellMs, (shellEnd, chance) => {
      this.#add(first, end, shellEnd, ending, emerging * chance);
    });
    if (tornShare === 0) return;
    const torn = (share * tornShare) / tornInstants;
    for (let i = 0; i < tornInstants; i++) {
      const tornMs = startMs + ((emergesMs - startMs) * (i + 0.5)) / tornInstants;
      const tornBefore = this.#lookFrom(first, tornMs);
      this.#eachSpan(tornBefore, tornMs, tornMs + longestShellMs, (shellEnd, chance) => {
        this.#add(first, tornBefore, shellEnd, 1, torn * chance);
      });
    }
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

const endings = ['virgin', 'torn-down', 'excluded', 'settled'] as const;
const excludedEnding = endings.indexOf('excluded');
const settledEnding = endings.indexOf('settled');

/** One class of cells of a wave. */
interface OneCell {
  readonly startMs: number;
  readonly emergesMs: number;
  readonly share: number;
  readonly tornShare: number;
}

function emergencyCells(wave: Wave): readonly OneCell[] {
  const starts = wave.after === 'loss' ? startsAfterLoss : startsAgain;
  return starts.flatMap((start) => {
    const startMs = wave.fromMs + developmentMs(start.day);
    return agesOn((startMs - wave.eggMs) / developmentMs(1)).flatMap((age) =>
      speeds.map((speed) => ({
        startMs,
        emergesMs: startMs + developmentMs(speed.days - eggDays - age.days),
        share: wave.weight * start.share * age.share * speed.share,
        tornShare: tornDownShare.value,
      })),
    );
  });
}

/** Method: ages that stand for all of a swarm cell’s. */
const swarmAges = 12;

/** Of every age alike; bees tear down emergency cells, hardly those of a swarm. */
function swarmCells({ fromMs, weight }: Wave): readonly OneCell[] {
  const [youngest, oldest] = [lowEnd(swarmCellAgeDays), highEnd(swarmCellAgeDays)];
  return Array.from({ length: swarmAges }, (_, i) => {
    const age = youngest + ((oldest - youngest) * (i + 0.5)) / swarmAges;
    return {
      startMs: fromMs - developmentMs(age - youngest),
      emergesMs: fromMs + developmentMs(queenEmergesDays.value - age),
      share: weight / swarmAges,
      tornShare: 0,
    };
  });
}

const cellsOf = (wave: Wave): readonly OneCell[] =>
  wave.after === 'swarm' ? swarmCells(wave) : emergencyCells(wave);

/** The first virgin of these waves, by the figures. */
export const firstVirginMs = (waves: readonly Wave[]): number =>
  Math.min(...waves.flatMap(cellsOf).map(({ emergesMs }) => emergesMs));

export interface VirginsKnown {
  /** A test frame showed that none was loose then. */
  readonly noneAtMs: number;
  /** What had emerged before was found and taken away. */
  readonly settledAtMs: number;
}

const nothingKnown: VirginsKnown = { noneAtMs: -Infinity, settledAtMs: -Infinity };

/** Fates of the cells of the waves, for looks at these instants in ascending order. */
export function cellFates(
  waves: readonly Wave[],
  lookMs: readonly number[],
  known: VirginsKnown = nothingKnown,
): readonly Fate[] {
  const counter = new FateCounter(lookMs, known);
  for (const wave of waves) {
    for (const cell of cellsOf(wave)) counter.count(cell);
  }
  return counter.fates();
}
