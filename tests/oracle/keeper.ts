/**
 * A keeper who works on the agents' colony and writes the field log: looks that may be incomplete, cells
 * that are overlooked, brood that is judged by eye, frames that are brought in. What is written is true as
 * far as this keeper could see; what was overlooked is remembered in the cells.
 */
import type { FactPayload, LogEntry } from '../../server/introduction/log/facts.ts';
import type { Cell, Colony } from './colony.ts';
import type { Dice } from './dice.ts';

type CellsCut = Extract<FactPayload, { kind: 'cells-cut' }>;

export class Keeper {
  readonly log: LogEntry[] = [];
  /** Day of the last look for cells. */
  lastLook = -Infinity;
  readonly #dice: Dice;
  readonly #colony: Colony;
  /** Share of standing cells that a complete look passes over. */
  readonly #misses: number;
  /** Share of the cells that a look in part leaves out. No source: a third to two thirds. */
  readonly #leavesOut: number;
  /** How often a virgin that runs is noticed. No source: seldom. */
  readonly #seesVirgins: number;
  readonly #toMs: (day: number) => number;
  readonly #introductionId: string;

  constructor(
    dice: Dice,
    colony: Colony,
    misses: number,
    introductionId: string,
    toMs: (day: number) => number,
  ) {
    this.#dice = dice;
    this.#colony = colony;
    this.#misses = misses;
    this.#leavesOut = dice.between(0.33, 0.66);
    this.#seesVirgins = dice.between(0.04, 0.28);
    this.#introductionId = introductionId;
    this.#toMs = toMs;
  }

  write(day: number, fact: FactPayload): void {
    const happenedAtMs = Math.round(this.#toMs(day));
    this.log.push({
      id: `fact-${String(this.log.length).padStart(4, '0')}`,
      introductionId: this.#introductionId,
      type: 'fact',
      happenedAtMs,
      writtenAtMs: happenedAtMs + 60_000,
      fact,
    });
  }

  /** A look for cells; `complete` on every frame with the bees shaken off. Finds are cut unless it only looks. */
  look(t: number, complete: boolean, cuts: boolean): void {
    this.lastLook = t;
    const found = this.#search(t, complete);
    const seen = this.#whatIsSeen(t, found, complete);
    if (cuts) {
      const youngLarvaInOpenCell = found.some((c) => c.sealed > t && t - c.laid > 3 && t - c.laid < 5);
      this.write(t, { kind: 'cells-cut', ...seen, youngLarvaInOpenCell });
      this.#colony.cut(found, t);
    } else this.write(t, { kind: 'inspection', ...seen, layingQueenSeen: false });
  }

  #search(t: number, complete: boolean): readonly Cell[] {
    this.#colony.advance(t);
    const standing = this.#colony.standing(t);
    const found = standing.filter(() => !this.#dice.chance(complete ? this.#misses : this.#leavesOut));
    if (complete) for (const cell of standing) if (!found.includes(cell)) cell.missed = true;
    return found;
  }

  /** Swarm cells are looked for and cut as the split is made; as many are overlooked as at any look. */
  takeSwarmCellsOut(): number {
    const found = this.#search(0, true);
    this.#colony.cut(found, 0);
    return found.length;
  }

  #whatIsSeen(
    t: number,
    found: readonly Cell[],
    complete: boolean,
  ): Omit<CellsCut, 'kind' | 'youngLarvaInOpenCell'> {
    const shells = this.#colony.shells(t);
    const notices = (count: number): number =>
      Array.from({ length: count }).filter(
        () => !this.#dice.chance(complete ? this.#misses : this.#leavesOut),
      ).length;
    const open = found.filter((c) => c.sealed > t).length;
    return {
      cells: {
        open,
        sealed: found.length - open,
        emerged: notices(shells.emerged),
        tornDown: notices(shells.tornDown),
      },
      everyFrameChecked: complete,
      beesShakenOff: complete,
      youngestBrood: this.#youngestBrood(t, complete),
      virginSeen: this.#colony.virginsAt(t).length > 0 && this.#dice.chance(this.#seesVirgins),
      severalEggsACell: false,
      droneBroodInWorkerCells: false,
    };
  }

  /** The youngest brood as a keeper calls it: larvae up to two days old are young, sealed at nine. */
  #youngestBrood(t: number, complete: boolean): CellsCut['youngestBrood'] {
    if (!complete || this.#dice.chance(0.37)) return 'not-looked';
    const { age, hatched } = this.#colony.youngest(t);
    if (!hatched) return 'eggs';
    if (age < 5) return 'young-larvae';
    if (age < 9) return 'old-larvae';
    return age < 21 ? 'sealed-only' : 'none';
  }

  split(
    oldQueen: 'seen-in-parent' | 'not-seen',
    cellsAlreadyThere: 'none' | 'present-and-removed' | 'present-and-left' | 'not-looked',
    cellsTakenOut?: number,
  ): void {
    this.write(0, {
      kind: 'split-made',
      framesOfBees: 3,
      framesOfSealedBrood: 2,
      framesOfOpenBrood: 1,
      framesOfStores: 1,
      oldQueen,
      cellsAlreadyThere,
      ...(cellsTakenOut === undefined ? {} : { cellsTakenOut }),
    });
  }

  hang(t: number): void {
    this.write(t, { kind: 'cage-hung', queenId: 'queen', candyEnd: 'closed' });
    this.write(t, { kind: 'cage-checked', behaviour: 'feeding', queenAlive: true });
  }

  bringBrood(t: number): void {
    this.#colony.bringBrood(t);
    this.write(t, { kind: 'brood-frame-added', brood: 'eggs-or-young-larvae', asTestFrame: false });
  }

  /** A test frame for two days or so: cells on it unless a queen of any kind walks free. */
  testFrame(t: number): number {
    const out = t + this.#dice.between(1, 2.5);
    this.write(t, { kind: 'brood-frame-added', brood: 'eggs-or-young-larvae', asTestFrame: true });
    const queenAtFirst = this.#colony.queenIn(t);
    const queenLater = this.#colony.queenIn(out);
    const chance = queenAtFirst ? 0 : queenLater ? 0.5 : out - t < 1.5 ? 0.72 : 0.97;
    const cellsOnIt = this.#dice.chance(chance) ? this.#dice.whole(1, 6) : 0;
    this.write(out, { kind: 'brood-frame-taken', asTestFrame: true, cellsOnIt });
    return out;
  }
}
