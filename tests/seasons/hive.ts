/**
 * A nuc with known truth: the agents' colony and the queen that is introduced to it. What is done at it happens here;
 * what somebody sees of it is in `sight.ts`. Knows nothing of the tool.
 */
import type { Dice } from '../oracle/dice.ts';
import { Colony, type Layer } from './colony.ts';
import { luck, type Nature } from './nature.ts';

export type Rival = 'virgin' | 'old-queen' | 'young-queen' | 'laying-workers';
export type LostTo = Rival | 'biting' | 'early-look' | 'no-cause' | 'in-hand' | 'in-cage' | 'balled';

export interface Queen {
  readonly id: string;
  where: 'in-hand' | 'caged' | 'out' | 'dead' | 'flown';
  readonly inHandFrom: number;
  cagedAt: number | null;
  /** Under a mesh she lays from then on; `Infinity` in a cage. */
  meshEggsFrom: number;
  /** The candy end was opened, or the mesh lifted. */
  openedAt: number | null;
  /** She walks free from then on. */
  freeAt: number | null;
  readonly layer: Layer | null;
  readonly droneLayer: boolean;
  lostAt: number | null;
  lostTo: LostTo | null;
  rival: { readonly who: Rival; readonly at: number } | null;
}

/** Days after she walks free in which another queen that emerges still meets her as a stranger. */
const strangerDays = 7;

export class Hive {
  readonly colony: Colony;
  readonly queens: Queen[] = [];
  readonly #d: Dice;
  /** Opened within the first days after a release: instants. */
  readonly #looks: number[] = [];
  readonly #ownQueen: boolean;
  readonly #mesh: boolean;

  constructor(
    d: Dice,
    nature: Nature,
    { ownQueen, mesh }: { readonly ownQueen: boolean; readonly mesh: boolean },
  ) {
    this.#d = d;
    this.colony = new Colony(d, nature);
    this.#ownQueen = ownQueen;
    this.#mesh = mesh;
  }

  get queen(): Queen | null {
    return this.queens.at(-1) ?? null;
  }

  take(id: string, t: number, alive: boolean): Queen {
    const queen: Queen = {
      id,
      where: alive ? 'in-hand' : 'dead',
      inHandFrom: t,
      cagedAt: null,
      meshEggsFrom: Infinity,
      openedAt: null,
      freeAt: null,
      layer: null,
      droneLayer: this.#d.chance(luck.droneLayer),
      lostAt: alive ? null : t,
      lostTo: alive ? null : 'no-cause',
      rival: null,
    };
    this.queens.push(queen);
    return queen;
  }

  hang(t: number): void {
    const queen = this.queen;
    if (!queen) return;
    queen.where = 'caged';
    queen.cagedAt = t;
    queen.meshEggsFrom = this.#mesh ? t + this.#d.between(0.8, 3.5) : Infinity;
    this.colony.scentFrom = Math.min(this.colony.scentFrom, t);
  }

  rivalAt(t: number): Rival | null {
    this.colony.advance(t);
    const layer = this.colony.layers.find((l) => l.from <= t && t < l.until && l.who !== 'hers');
    if (layer) return layer.who === 'old' ? 'old-queen' : 'young-queen';
    if (this.colony.virginsAt(t).length > 0) return 'virgin';
    return !this.#hersFree(t) && this.colony.layingWorkers(t) ? 'laying-workers' : null;
  }

  #hersFree = (t: number): boolean =>
    this.colony.layers.some((l) => l.who === 'hers' && l.from <= t && t < l.until);

  /** Whether the bees at the cage bite: at any cage for the first days in some colonies, or for a rival's sake. */
  bites(t: number): boolean {
    const hung = this.queen?.cagedAt ?? t;
    if (t - hung < this.colony.nature.crossDays) return true;
    return this.#d.chance(this.rivalAt(t) === null ? 0.015 : 0.45);
  }

  /** She is let out: by the bees through the candy, or by the lifted mesh. */
  letOut(t: number, mesh: boolean): void {
    const queen = this.queen;
    if (queen?.where !== 'caged') return;
    queen.where = 'out';
    queen.openedAt = t;
    queen.freeAt = mesh ? t : t + this.#d.between(0.4, 3);
    const cross = queen.freeAt - (queen.cagedAt ?? t) < this.colony.nature.crossDays;
    if (cross && this.#d.chance(luck.lostToBiting)) this.#lose(queen, queen.freeAt + 0.3, 'biting');
    else if (this.#d.chance(this.#ownQueen ? luck.notAccepted / 2 : luck.notAccepted))
      this.#lose(queen, queen.freeAt + this.#d.between(0, 3), 'no-cause');
    this.#lays(queen);
  }

  /** She gets out by accident while the cage is hung: flies off, or runs down among the bees. */
  escape(t: number): 'outside' | 'into-the-nuc' {
    const queen = this.queen;
    if (!queen || this.#d.chance(0.4)) {
      if (queen)
        Object.assign(queen, { where: 'flown', lostAt: t, lostTo: 'no-cause' } satisfies Partial<Queen>);
      return 'outside';
    }
    this.hang(t);
    this.letOut(t, true);
    if (queen.lostAt === null && this.#d.chance(0.4))
      this.#lose(queen, t + this.#d.between(0, 2), 'no-cause');
    return 'into-the-nuc';
  }

  #lays(queen: Queen): void {
    const from = (queen.freeAt ?? 0) + this.#d.between(this.#ownQueen ? 0.3 : 1, this.#ownQueen ? 2 : 4.5);
    const layer: Layer = { from, until: queen.lostAt ?? Infinity, who: 'hers' };
    Object.assign(queen, { layer });
    this.colony.layers.push(layer);
    if (queen.lostAt === null || queen.lostAt > from) this.colony.feelQueen(queen.freeAt ?? from);
  }

  #lose(queen: Queen, at: number, to: LostTo): void {
    if (queen.lostAt !== null && queen.lostAt <= at) return;
    queen.lostAt = at;
    queen.lostTo = to;
    const { layer } = queen;
    if (!layer) return;
    layer.until = Math.min(layer.until, at);
    if (layer.from < at && !queen.droneLayer) this.colony.lose(at, (at - layer.from) / 8 > 1 ? 1 : 0.5);
  }

  /** Somebody opens the nuc: in the first days of her freedom that can cost her. */
  opened(t: number): void {
    this.settle(t);
    this.#looks.push(t);
    const { queen } = this;
    if (queen?.freeAt == null || queen.lostAt !== null || t < queen.freeAt - 2) return;
    if (
      t - (queen.openedAt ?? t) < luck.earlyLookDays &&
      t > (queen.openedAt ?? t) + 0.2 &&
      this.#d.chance(luck.lostToEarlyLook)
    )
      this.#lose(queen, t, 'early-look');
  }

  /** Brings everything up to `t`: deaths in hand and cage, rivals that she met. */
  settle(t: number): void {
    this.colony.advance(t);
    const { queen } = this;
    if (queen?.where === 'out' && queen.freeAt !== null) this.#meet(queen, t);
  }

  #meet(queen: Queen, t: number): void {
    if (queen.rival || queen.freeAt === null) return;
    const until = Math.min(t, queen.freeAt + strangerDays, queen.lostAt ?? Infinity);
    for (let at = queen.freeAt; at <= until; at += 0.25) {
      const who = this.rivalAt(at);
      if (who === null) continue;
      queen.rival = { who, at };
      const share = {
        virgin: luck.lostToVirgin,
        'old-queen': luck.lostToQueen,
        'young-queen': luck.lostToQueen,
        'laying-workers': luck.lostToLayingWorkers,
      }[who];
      if (this.#d.chance(share)) this.#lose(queen, at + 0.3, who);
      else this.#beats(who, at);
      return;
    }
  }

  #beats(who: Rival, at: number): void {
    for (const virgin of this.colony.virginsAt(at)) this.colony.remove(virgin, at + 0.2);
    if (who !== 'laying-workers')
      for (const layer of this.colony.layers)
        if (layer.who !== 'hers') layer.until = Math.min(layer.until, at + 0.2);
  }

  /** A day passes for a queen in hand or in her cage. */
  dayPasses(t: number): void {
    const { queen } = this;
    if (!queen) return;
    const long = t - queen.inHandFrom > luck.longInHandDays;
    const risk =
      queen.where === 'in-hand'
        ? long
          ? luck.diesInHandLongADay
          : luck.diesInHandADay
        : queen.where === 'caged'
          ? luck.diesInCageADay
          : 0;
    if (!this.#d.chance(risk)) return;
    const where = queen.where;
    queen.where = 'dead';
    queen.lostAt = t;
    queen.lostTo = where === 'caged' ? 'in-cage' : 'in-hand';
  }

  /** She sits in a ball of bees at the moment when she is let out under somebody's eyes. */
  balled(t: number): boolean {
    return this.#d.chance(this.rivalAt(t) === null ? luck.balledWithoutCause : luck.balledWithRival);
  }

  /** Her eggs stand under the mesh, where anybody can see them. */
  eggsUnderMesh(t: number): boolean {
    return this.queen?.where === 'caged' && t > this.queen.meshEggsFrom;
  }

  freeAndWell(t: number): boolean {
    const { queen } = this;
    return queen?.freeAt != null && queen.freeAt <= t && (queen.lostAt === null || t < queen.lostAt);
  }
}
