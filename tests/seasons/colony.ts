/**
 * A colony as a crowd of agents with known truth: brood, queen cells one by one, virgins, queens, laying workers. Days
 * from midnight of day 0.
 */
import type { Dice } from '../oracle/dice.ts';
import type { Nature } from './nature.ts';

export interface Cell {
  readonly started: number;
  readonly laid: number;
  readonly sealed: number;
  readonly emerges: number;
  tornDown: number;
  /** How much easier it is overlooked than others: it hides among bees, or in a corner of the comb. */
  readonly hidden: number;
  cut: number;
  stung: number;
  /** Complete looks that passed over it. */
  missed: number;
  readonly shellUntil: number;
}

export interface Virgin {
  readonly from: number;
  until: number;
  /** She lays fertile eggs from then on; `Infinity` where she is never mated. */
  readonly laysFrom: number;
  readonly fromMissed: boolean;
}

/** A laying queen walks free over this span: the old one, or a young one of the colony's own. */
export interface Layer {
  readonly from: number;
  until: number;
  readonly who: 'old' | 'young' | 'hers';
}

interface Larva {
  readonly laid: number;
  readonly hatches: number;
}

export type Youngest = 'eggs' | 'young-larvae' | 'old-larvae' | 'sealed-only' | 'none';

export class Colony {
  readonly cells: Cell[] = [];
  readonly virgins: Virgin[] = [];
  readonly layers: Layer[] = [];
  readonly nature: Nature;
  /** A caged queen hangs among them from then on: none begins to lay any more. */
  scentFrom = Infinity;
  readonly #d: Dice;
  #larvae: Larva[] = [];
  /** Laying instant of the youngest egg that a frame brought in. */
  #broughtIn = -Infinity;

  constructor(d: Dice, nature: Nature) {
    this.#d = d;
    this.nature = nature;
  }

  /** A queen laid here until `until`. */
  laidUntil(until: number, who: Layer['who'] = 'old'): void {
    this.layers.push({ from: until - 60, until, who });
  }

  /** The laying queen is gone at `t`: her young brood is left, and workers start cells over it. */
  lose(t: number, share = 1): void {
    for (let i = 0; i < 80; i++) this.#egg(t - 8 * this.#d.unit());
    this.#start(this.#d.poisson(this.nature.cells * share), t, this.nature.firstCellDays);
  }

  #egg(laid: number): void {
    this.#larvae.push({ laid, hatches: laid + this.nature.eggDays * this.#d.normal(1, 0.01) });
  }

  #rearUntil = (l: Larva): number => l.hatches + this.nature.larvaDays;

  rearable(t: number): boolean {
    return this.layingFree(t) !== null || this.#larvae.some((l) => l.laid <= t && t < this.#rearUntil(l));
  }

  #start(count: number, from: number, first: number): void {
    for (let i = 0; i < count; i++) {
      const t = from + Math.min(first + this.#d.gamma(1.5, 1.2), this.nature.lastCellDays);
      this.#startOne(t);
    }
  }

  #startOne(t: number): void {
    const [a, b, c, e] = this.nature.ages;
    const roll = this.#d.unit() * (a + b + c + e);
    const [low, high] = roll < a ? [0, 2] : roll < a + b ? [2, 3] : roll < a + b + c ? [3, 4] : [-3, 0];
    const left = this.#larvae.filter((l) => l.laid <= t && t < this.#rearUntil(l));
    const liked = left.filter((l) => t - l.hatches >= low && t - l.hatches < high);
    const pool = liked.length > 0 ? liked : left.filter((l) => l.hatches <= t);
    const larva = pool[Math.floor(this.#d.unit() * pool.length)];
    if (larva) this.#add(t, larva.laid, this.#d.chance(this.nature.tornDown));
  }

  #add(started: number, laid: number, torn: boolean): void {
    const { queenDays, queenSealedDays, shellDays } = this.nature;
    const emerges = laid + queenDays * this.#d.normal(1, 0.01);
    const tornDown = torn ? this.#d.between(started, emerges) : Infinity;
    this.cells.push({
      started,
      laid,
      sealed: laid + queenSealedDays,
      emerges,
      tornDown,
      hidden: this.#d.gamma(2.5, 0.4),
      cut: Infinity,
      stung: Infinity,
      missed: 0,
      shellUntil: Math.min(emerges, tornDown) + this.#d.between(0, 1) * shellDays,
    });
  }

  addSwarmCells(count: number, t: number): void {
    for (let i = 0; i < count; i++) {
      const laid = t - this.#d.between(3.5, 15);
      this.#add(laid + 3, laid, false);
    }
  }

  /** A frame with eggs and larvae comes in to stay; queenless bees start cells on it. */
  bringBrood(t: number): void {
    for (let i = 0; i < 30; i++) this.#egg(t - 5 * this.#d.unit());
    this.#broughtIn = t;
    if (!this.queenFree(t)) this.#start(this.#d.poisson(this.nature.cells * 0.5), t, this.#d.between(0.3, 1));
  }

  /** A laying queen walks free from `t` on: no cell is started any more, some of those that stand are torn down. */
  feelQueen(t: number): void {
    for (const cell of this.cells) {
      if (cell.started > t + 0.5) cell.cut = Math.min(cell.cut, cell.started);
      else if (this.#d.chance(this.nature.tornDownForQueen))
        cell.tornDown = Math.min(cell.tornDown, t + this.#d.between(0.3, 3.7));
    }
  }

  cut(cells: readonly Cell[], t: number): void {
    for (const cell of cells) cell.cut = t;
    if (cells.length > 0 && this.rearable(t) && !this.queenFree(t))
      this.#start(this.#d.poisson(this.nature.cells * 0.4), t, this.#d.between(0, 1));
  }

  standing(t: number): Cell[] {
    return this.cells.filter((c) => c.started <= t && t < Math.min(c.emerges, c.tornDown, c.cut, c.stung));
  }

  shells(t: number): { readonly emerged: number; readonly tornDown: number } {
    const left = (c: Cell, at: number): boolean =>
      at <= t && at < Math.min(c.cut, c.stung) && t < c.shellUntil && t < c.cut;
    return {
      emerged: this.cells.filter((c) => c.emerges < c.tornDown && left(c, c.emerges)).length,
      tornDown: this.cells.filter((c) => c.tornDown < c.emerges && left(c, c.tornDown)).length,
    };
  }

  /** Virgins emerge up to `t`; of two that meet one is left; she stings most other cells within two days. */
  advance(t: number): void {
    const due = this.cells
      .filter((c) => c.emerges <= t && c.emerges < Math.min(c.tornDown, c.cut, c.stung))
      .filter((c) => !this.virgins.some((v) => v.from === c.emerges))
      .toSorted((a, b) => a.emerges - b.emerges);
    for (const cell of due) {
      if (cell.emerges >= cell.stung) continue;
      const at = cell.emerges;
      const rival = this.virgins.find((v) => v.from <= at && at < v.until);
      if (rival || this.layers.some((l) => l.from <= at && at < l.until && l.who !== 'hers')) {
        this.virgins.push({
          from: at,
          until: at + this.#d.between(0.1, 1),
          laysFrom: Infinity,
          fromMissed: cell.missed > 0,
        });
        continue;
      }
      this.#virginOut(at, cell.missed > 0);
    }
  }

  #virginOut(at: number, fromMissed: boolean): void {
    const flight = at + this.#d.between(5, 12);
    const fate = this.#d.unit();
    const laysFrom = fate < 0.78 ? flight + this.#d.between(1.8, 4.6) : Infinity;
    const until = fate > 0.9 ? flight : Infinity;
    this.virgins.push({ from: at, until, laysFrom, fromMissed });
    if (laysFrom < Infinity) this.layers.push({ from: laysFrom, until: Infinity, who: 'young' });
    for (const cell of this.standing(at)) if (this.#d.chance(0.75)) cell.stung = at + this.#d.between(0.2, 2);
  }

  /** A virgin is put in from outside the colony's own cells: one that nobody knows of. */
  hideVirgin(at: number): void {
    this.#virginOut(at, false);
  }

  virginsAt(t: number): Virgin[] {
    return this.virgins.filter((v) => v.from <= t && t < v.until);
  }

  remove(virgin: Virgin, t: number): void {
    virgin.until = t;
    for (const layer of this.layers)
      if (layer.from === virgin.laysFrom) layer.until = Math.min(layer.until, t);
  }

  layingFree(t: number): Layer | null {
    return this.layers.find((l) => l.from <= t && t < l.until) ?? null;
  }

  queenFree(t: number): boolean {
    this.advance(t);
    return this.virginsAt(t).length > 0 || this.layingFree(t) !== null;
  }

  /** Laying instant of the youngest fertile egg. */
  #lastEgg(t: number): number {
    const laid = this.layers.filter((l) => l.from <= t).map((l) => Math.min(l.until, t));
    return Math.max(this.#broughtIn <= t ? this.#broughtIn : -Infinity, ...laid);
  }

  youngest(t: number): Youngest {
    const age = t - this.#lastEgg(t);
    const { eggDays, workerSealedDays, workerDays } = this.nature;
    if (age < eggDays) return 'eggs';
    if (age < eggDays + 2.2) return 'young-larvae';
    if (age < workerSealedDays) return 'old-larvae';
    return age < workerDays ? 'sealed-only' : 'none';
  }

  /** Workers lay once they have had neither a queen nor open brood for long; a laying queen ends it within days. */
  layingWorkers(now: number): boolean {
    if (this.queenFree(now)) return false;
    const t = Math.min(now, this.scentFrom);
    const since = Math.max(this.#lastEgg(t), ...this.virgins.filter((v) => v.until <= t).map((v) => v.until));
    return t - since > this.nature.layingWorkerDays;
  }
}
