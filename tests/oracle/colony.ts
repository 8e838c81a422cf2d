/**
 * A colony as a crowd of agents, with known truth: each egg with development times of its own, workers that
 * start queen cells over larvae that are there, cells that are torn down or emerge, virgins that fight.
 *
 * It is the judge of the gates, so it shares no code and no figures with them. Its figures are typed here
 * from the sources: Mussen et al. 1987 (egg 3 d, queen 16 d, worker 21 d; warm nests up to a day faster),
 * Fell and Morse 1984 (larvae under 2 d 64.7 %, 3 d 25.3 %, 4 d 10 %; eggs under 1 %; first cells 12-48 h,
 * most by day 3-4, last by day 8-9; mean 20.4 cells, 11-49; 9.3 % over drone larvae, torn down), Hatch,
 * Tarpy and Fletcher 1999 (53 % torn down). What no source gives is marked as such.
 *
 * Time is in days of 24 hours from the loss of the queen.
 */
import type { Dice } from './dice.ts';

interface Larva {
  readonly laid: number;
  readonly hatches: number;
  /** Workers can rear a queen from it until then. */
  readonly rearableUntil: number;
  /** What it would take from laying to become a queen. */
  readonly queenDays: number;
}

export interface Cell {
  readonly started: number;
  readonly laid: number;
  readonly sealed: number;
  readonly emerges: number;
  /** Workers tear it down then, if nothing else happens before. */
  tornDown: number;
  cut: number;
  /** Whether a complete look passed over it while it stood. */
  missed: boolean;
  /** A shell is left for some time after the virgin has gone, or after it was torn down. */
  readonly shellUntil: number;
  /** A loose virgin gets it. */
  readonly stung: boolean;
  /** Started over a drone larva: no queen ever comes from it. */
  readonly overDrone: boolean;
}

export interface Virgin {
  readonly from: number;
  until: number;
  /** She comes from a cell that a complete look missed. */
  readonly fromMissed: boolean;
}

/** Warm and cool nests; each egg a little off its nest's pace. Fast eggs are fast queens. */
function layEgg(dice: Dice, laid: number, pace: number): Larva {
  const clip = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));
  const own = pace * dice.normal(1, 0.008);
  const egg = clip(3.15 * own, 3, 3.5);
  return {
    laid,
    hatches: laid + egg,
    rearableUntil: laid + egg + 4,
    queenDays: clip(16 * own, 15, 17),
  };
}

export class Colony {
  readonly cells: Cell[] = [];
  readonly virgins: Virgin[] = [];
  readonly #dice: Dice;
  readonly #larvae: Larva[] = [];
  readonly #pace: number;
  readonly #cellMean: number;
  /** Spans in which a laying queen of any kind walked free. */
  readonly layers: { readonly from: number; until: number }[] = [];

  constructor(dice: Dice, queenStays: boolean) {
    this.#dice = dice;
    this.#pace = Math.min(1.06, Math.max(0.9375, dice.normal(1, 0.02)));
    this.#cellMean = dice.gamma(3, 20.4 / 3);
    for (let i = 0; i < 120; i++) this.#larvae.push(layEgg(dice, -9 * (i / 120), this.#pace));
    if (queenStays) this.layers.push({ from: -100, until: Infinity });
    else this.#startCells(dice.poisson(this.#cellMean), 0, dice.between(0.5, 1));
  }

  /** Larvae from which a queen can be reared at `t`, eggs not counted. */
  #rearable(t: number): Larva[] {
    return this.#larvae.filter((l) => l.hatches <= t && t < l.rearableUntil);
  }

  /** Workers start over a larva of the age that Fell and Morse counted, if there is one; else over any other. */
  #chooseLarva(t: number): Larva | undefined {
    const roll = this.#dice.unit();
    const [from, to] = roll < 0.647 ? [0, 2] : roll < 0.9 ? [2, 3] : roll < 0.992 ? [3, 4] : [-3, 0];
    const left = this.#larvae.filter((l) => t < l.rearableUntil && l.laid <= t);
    const liked = left.filter((l) => t - l.hatches >= from && t - l.hatches < to);
    const hatched = left.filter((l) => l.hatches <= t);
    const pool = liked.length > 0 ? liked : hatched;
    return pool[Math.floor(this.#dice.unit() * pool.length)];
  }

  /** `count` cells after a loss at `from`: first after `first` days, most within four, stragglers to day nine. */
  #startCells(count: number, from: number, first: number): void {
    for (let i = 0; i < count; i++) {
      const t = from + Math.min(first + this.#dice.gamma(1.3, 1.3), 9);
      // Cells over drone larvae are a share of those that are started; after a loss some to day nine.
      const bees = this.#rearable(t).length > 0 || (from === 0 && t > 8);
      if (bees && this.#dice.chance(0.093)) this.#startOverDrone(t);
      else this.#startCell(t);
    }
  }

  #startCell(t: number): void {
    const larva = this.#chooseLarva(t);
    if (!larva) return;
    const emerges = larva.laid + larva.queenDays;
    // 53 % of all cells are torn down; the drone cells among them always are.
    const torn = this.#dice.chance((0.53 - 0.093) / (1 - 0.093));
    this.#addCell(t, larva.laid, emerges, torn ? this.#dice.between(t, emerges) : Infinity, false);
  }

  #startOverDrone(t: number): void {
    const torn = t + this.#dice.between(0.5, 6);
    this.#addCell(t, t - 5, t + 30, torn, true);
  }

  #addCell(started: number, laid: number, emerges: number, tornDown: number, overDrone: boolean): void {
    this.cells.push({
      started,
      laid,
      sealed: laid + this.#dice.between(7.5, 8.5),
      emerges,
      tornDown,
      cut: Infinity,
      missed: false,
      // No source: shells are cleared away within days, some at once.
      shellUntil: Math.min(emerges, tornDown) + this.#dice.between(0, 4),
      stung: this.#dice.chance(0.8),
      overDrone,
    });
  }

  /** Swarm cells that stood when the queen was lost: of any age, from eggs that the old queen laid in them. */
  addSwarmCells(count: number): void {
    for (let i = 0; i < count; i++) {
      const laid = this.#dice.between(-15, -3);
      this.#addCell(laid + 3.5, laid, laid + 16 * this.#pace, Infinity, false);
    }
  }

  /** A frame of young brood is brought in: eggs and larvae up to two days old. */
  bringBrood(t: number, count = 40): void {
    for (let i = 0; i < count; i++)
      this.#larvae.push(layEgg(this.#dice, t - 5 * this.#dice.unit(), this.#pace));
    if (!this.queenIn(t))
      this.#startCells(this.#dice.poisson(this.#cellMean * 0.4), t, this.#dice.between(0, 1));
  }

  /** Cells are cut; where young larvae are left the bees start others. No source for how many: two in five of the first. */
  cut(cells: readonly Cell[], t: number): void {
    for (const cell of cells) cell.cut = t;
    if (cells.length > 0 && this.#rearable(t).length > 0 && !this.queenIn(t)) {
      this.#startCells(this.#dice.poisson(this.#cellMean * 0.4), t, this.#dice.between(0, 1));
    }
  }

  removeLayer(t: number): void {
    for (const layer of this.layers) layer.until = Math.min(layer.until, t);
    for (let i = 0; i < 120; i++) this.#larvae.push(layEgg(this.#dice, t - 9 * (i / 120), this.#pace));
    this.#startCells(this.#dice.poisson(this.#cellMean), t, this.#dice.between(0.5, 1));
  }

  standing(t: number): Cell[] {
    return this.cells.filter(
      (c) => c.started <= t && t < Math.min(c.emerges, c.tornDown, c.cut) && !this.#killedByVirgin(c, t),
    );
  }

  /** Virgins sting their rivals through the cell wall within a day or two. No source for how often: mostly. */
  #killedByVirgin(cell: Cell, t: number): boolean {
    const killer = this.virgins.find((v) => v.from < cell.emerges && v.until > v.from + 1);
    return killer !== undefined && t > killer.from + 1 && cell.stung;
  }

  shells(t: number): { emerged: number; tornDown: number } {
    const gone = (at: number, c: Cell): boolean => at <= t && t < c.shellUntil && c.cut > t;
    return {
      emerged: this.cells.filter((c) => gone(c.emerges, c) && c.tornDown > c.emerges).length,
      tornDown: this.cells.filter((c) => gone(c.tornDown, c) && c.tornDown < c.emerges).length,
    };
  }

  /** Lets virgins emerge up to `t`. Two that meet fight, and the older wins. */
  advance(t: number): void {
    const due = this.cells
      .filter(
        (c) =>
          c.emerges <= t &&
          c.emerges < Math.min(c.tornDown, c.cut) &&
          !this.virgins.some((v) => v.from === c.emerges),
      )
      .sort((a, b) => a.emerges - b.emerges);
    for (const cell of due) {
      if (this.#killedByVirgin(cell, cell.emerges - 1e-6)) continue;
      const rival = this.virgins.some((v) => v.until > cell.emerges);
      this.virgins.push({
        from: cell.emerges,
        until: rival ? cell.emerges + this.#dice.between(0.1, 1) : Infinity,
        fromMissed: cell.missed,
      });
    }
  }

  virginsAt(t: number): Virgin[] {
    return this.virgins.filter((v) => v.from <= t && t < v.until);
  }

  /** Whether a virgin from a missed cell is loose at `t` or will be within `days` if nobody comes. */
  virginFromMissedCell(t: number, days: number): boolean {
    return (
      this.virginsAt(t).some((v) => v.fromMissed) ||
      this.standing(t).some((c) => c.missed && c.emerges <= t + days && c.emerges < c.tornDown)
    );
  }

  /** A queen of any kind walks free: workers start no cell. */
  queenIn(t: number): boolean {
    this.advance(t);
    return this.virginsAt(t).length > 0 || this.layers.some((l) => l.from <= t && t < l.until);
  }

  /** An egg or larva from which workers can still rear a queen. */
  hasRearable(t: number): boolean {
    return (
      this.layers.some((l) => l.from <= t && t < l.until) ||
      this.#larvae.some((l) => l.laid <= t && t < l.rearableUntil)
    );
  }

  /** Age from laying of the youngest brood, and whether it has hatched. */
  youngest(t: number): { readonly age: number; readonly hatched: boolean } {
    if (this.layers.some((l) => l.from <= t && t < l.until)) return { age: 0, hatched: false };
    const young = this.#larvae.filter((l) => l.laid <= t).reduce((a, b) => (a.laid > b.laid ? a : b));
    return { age: t - young.laid, hatched: young.hatches <= t };
  }
}
