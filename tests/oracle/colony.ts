/**
 * A colony as a crowd of agents, with known truth: each egg with development times of its own, workers that
 * start queen cells over larvae that are there, cells that are torn down or emerge, virgins that fight.
 *
 * It is the judge of the gates, so it shares no code and no figures with them: each colony draws its own, about
 * what the sources give and wider than they say. Mussen et al. 1987: egg, larva and pupa of a queen 3, 5½ and 7½
 * days, warm nests up to a day faster. Fell and Morse 1984: most cells over larvae under two days, a quarter over
 * three, a tenth over four days, hardly any over eggs; first cells on the first or second day, most by day 3-4, last
 * by day 8-9; a score of cells, 11-49; a tenth of them over drone larvae, torn down. Hatch, Tarpy and Fletcher 1999:
 * about half torn down. What no source gives is marked as such. \`own-figures.test.ts\` holds it to that.
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
}

/** What one colony is like. */
interface Nature {
  /** Mean number of cells after a loss. */
  readonly cells: number;
  /** Shares of larvae under two, three and four days over which they are started, and of eggs. */
  readonly ages: readonly number[];
  readonly tornDown: number;
  readonly overDrones: number;
  /** Cells started again where larvae are left, for one of the first. No source: from a few to most. */
  readonly again: number;
  /** Longest life of a shell. No source: days. */
  readonly shellDays: number;
  /** A loose virgin gets a rival through the cell wall. No source: mostly. */
  readonly stung: number;
}

function natureOf(dice: Dice): Nature {
  const parts = [dice.gamma(13, 1), dice.gamma(5.1, 1), dice.gamma(2.1, 1), dice.gamma(1.1, 0.14)];
  const all = parts.reduce((sum, part) => sum + part, 0);
  return {
    cells: dice.gamma(2.9, 7.05),
    ages: parts.map((part) => part / all),
    tornDown: dice.beta(13, 12),
    overDrones: dice.between(0.03, 0.16),
    again: dice.between(0.12, 0.75),
    shellDays: dice.between(2.6, 5.2),
    stung: dice.between(0.6, 0.98),
  };
}

/** Warm and cool nests; each egg a little off its nest's pace. Fast eggs are fast queens. */
function layEgg(dice: Dice, laid: number, pace: number): Larva {
  const clip = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));
  const own = pace * dice.normal(1, 0.008);
  const egg = clip(3.17 * own, 3, 3.45);
  return {
    laid,
    hatches: laid + egg,
    rearableUntil: laid + egg + 4,
    queenDays: clip(15.97 * own, 15.03, 16.95),
  };
}

export class Colony {
  readonly cells: Cell[] = [];
  readonly virgins: Virgin[] = [];
  readonly #dice: Dice;
  readonly #larvae: Larva[] = [];
  readonly #pace: number;
  readonly #nature: Nature;
  /** Spans in which a laying queen of any kind walked free. */
  readonly layers: { readonly from: number; until: number }[] = [];

  constructor(dice: Dice, queenStays: boolean) {
    this.#dice = dice;
    this.#pace = Math.min(1.06, Math.max(0.9375, dice.normal(1, 0.02)));
    this.#nature = natureOf(dice);
    for (let i = 0; i < 120; i++) this.#larvae.push(layEgg(dice, -9 * (i / 120), this.#pace));
    if (queenStays) this.layers.push({ from: -100, until: Infinity });
    else this.#startCells(dice.poisson(this.#nature.cells), 0, dice.between(0.5, 1));
  }

  /** Larvae from which a queen can be reared at `t`, eggs not counted. */
  #rearable(t: number): Larva[] {
    return this.#larvae.filter((l) => l.hatches <= t && t < l.rearableUntil);
  }

  /** Workers start over a larva of the age that Fell and Morse counted, if there is one; else over any other. */
  #chooseLarva(t: number): Larva | undefined {
    const roll = this.#dice.unit();
    const [two = 0, three = 0, four = 0] = this.#nature.ages;
    const [from, to] =
      roll < two ? [0, 2] : roll < two + three ? [2, 3] : roll < two + three + four ? [3, 4] : [-3, 0];
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
      if (bees && this.#dice.chance(this.#nature.overDrones)) this.#startOverDrone(t);
      else this.#startCell(t);
    }
  }

  #startCell(t: number): void {
    const larva = this.#chooseLarva(t);
    if (!larva) return;
    const emerges = larva.laid + larva.queenDays;
    // The drone cells among those that are torn down always are.
    const { tornDown, overDrones } = this.#nature;
    const torn = this.#dice.chance((tornDown - overDrones) / (1 - overDrones));
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
      sealed: laid + this.#dice.between(7.4, 8.6),
      emerges,
      tornDown,
      cut: Infinity,
      missed: false,
      shellUntil: Math.min(emerges, tornDown) + this.#dice.between(0, this.#nature.shellDays),
      stung: this.#dice.chance(this.#nature.stung),
      overDrone,
    });
  }

  /** Swarm cells that stood when the queen was lost: of any age, from eggs that the old queen laid in them. */
  addSwarmCells(count: number): void {
    for (let i = 0; i < count; i++) {
      const laid = this.#dice.between(-15.6, -3.3);
      this.#addCell(laid + 3.3, laid, laid + 15.97 * this.#pace, Infinity, false);
    }
  }

  /** A frame of young brood is brought in: eggs and larvae up to two days old. */
  bringBrood(t: number, count = 40): void {
    for (let i = 0; i < count; i++)
      this.#larvae.push(layEgg(this.#dice, t - 5 * this.#dice.unit(), this.#pace));
    if (!this.queenIn(t))
      this.#startCells(
        this.#dice.poisson(this.#nature.cells * this.#nature.again),
        t,
        this.#dice.between(0, 1),
      );
  }

  /** Cells are cut; where young larvae are left the bees start others. */
  cut(cells: readonly Cell[], t: number): void {
    for (const cell of cells) cell.cut = t;
    if (cells.length > 0 && this.#rearable(t).length > 0 && !this.queenIn(t)) {
      this.#startCells(
        this.#dice.poisson(this.#nature.cells * this.#nature.again),
        t,
        this.#dice.between(0, 1),
      );
    }
  }

  removeLayer(t: number): void {
    for (const layer of this.layers) layer.until = Math.min(layer.until, t);
    for (let i = 0; i < 120; i++) this.#larvae.push(layEgg(this.#dice, t - 9 * (i / 120), this.#pace));
    this.#startCells(this.#dice.poisson(this.#nature.cells), t, this.#dice.between(0.5, 1));
  }

  standing(t: number): Cell[] {
    return this.cells.filter(
      (c) => c.started <= t && t < Math.min(c.emerges, c.tornDown, c.cut) && !this.#killedByVirgin(c, t),
    );
  }

  /** Virgins sting their rivals through the cell wall within a day or two. */
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
        until: rival ? cell.emerges + this.#dice.between(0.11, 1) : Infinity,
      });
    }
  }

  /** Those that are out at `t` flew to mate and did not come back. */
  virginsLost(t: number): void {
    this.advance(t);
    for (const virgin of this.virgins) virgin.until = Math.min(virgin.until, t);
  }

  virginsAt(t: number): Virgin[] {
    return this.virgins.filter((v) => v.from <= t && t < v.until);
  }

  /** Whether a virgin is loose at `t` or will be within `days` if nobody comes, from a missed cell or any other. */
  virginWithin(t: number, days: number): boolean {
    return (
      this.virginsAt(t).length > 0 ||
      this.standing(t).some((c) => c.emerges <= t + days && c.emerges < c.tornDown)
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
