/** What somebody sees of a nuc and writes down truthfully: cells passed over, a virgin not noticed, brood called by the wrong name. */
import type { CellCounts, FactPayload, YoungestBrood } from '../../server/introduction/log/facts.ts';
import type { Dice } from '../oracle/dice.ts';
import type { Cell, Youngest } from './colony.ts';
import type { Hive } from './hive.ts';
import type { Eye } from './nature.ts';

export interface CellSight {
  readonly found: readonly Cell[];
  readonly counts: CellCounts;
  readonly everyFrame: boolean;
  readonly youngest: YoungestBrood;
  readonly virgin: boolean;
  readonly youngLarvaInOpenCell: boolean;
  readonly severalEggs: boolean;
  readonly droneBrood: boolean;
  /** Left out where no queen is under a mesh. */
  readonly eggsOutsideMesh?: boolean;
  /** Truth: whether a cell that stood was passed over. */
  readonly passedOver: boolean;
}

const order: readonly Youngest[] = ['eggs', 'young-larvae', 'old-larvae', 'sealed-only', 'none'];

export class Sight {
  readonly #d: Dice;
  readonly #hive: Hive;
  readonly #eye: Eye;

  constructor(d: Dice, hive: Hive, eye: Eye) {
    this.#d = d;
    this.#hive = hive;
    this.#eye = eye;
  }

  /** Every frame, bees shaken off; one is left out now and then. */
  cells(t: number): CellSight {
    const { colony } = this.#hive;
    colony.advance(t);
    const everyFrame = !this.#d.chance(this.#eye.skipsFrame);
    const { misses } = this.#eye;
    const standing = colony.standing(t);
    const found = standing.filter(
      (cell) => !this.#d.chance(everyFrame ? Math.min(0.9, misses * cell.hidden) : 0.3),
    );
    for (const cell of standing) if (!found.includes(cell)) cell.missed++;
    const shells = colony.shells(t);
    const open = found.filter((cell) => cell.sealed > t).length;
    const notices = (count: number): number =>
      Array.from({ length: count }).filter(() => !this.#d.chance(everyFrame ? misses : 0.3)).length;
    return {
      found,
      counts: {
        open,
        sealed: found.length - open,
        emerged: notices(shells.emerged),
        tornDown: notices(shells.tornDown),
      },
      everyFrame,
      ...this.#brood(t),
      virgin: colony.virginsAt(t).length > 0 && this.#d.chance(this.#eye.seesVirgin),
      youngLarvaInOpenCell: found.some((c) => c.sealed > t && t - c.laid > 3.3 && t - c.laid < 5),
      passedOver: found.length < standing.length,
    };
  }

  /** Workers' eggs lie several in a cell; who does not notice takes them for a queen's. */
  #brood(t: number): Pick<CellSight, 'youngest' | 'severalEggs' | 'droneBrood' | 'eggsOutsideMesh'> {
    const { colony, queen } = this.#hive;
    const workers = colony.layingWorkers(t);
    const severalEggs = workers && this.#d.chance(0.85);
    const droneBrood =
      (workers && colony.layingWorkers(t - 10)) ||
      (queen?.droneLayer === true && queen.layer !== null && t > queen.layer.from + 10);
    const truth = workers ? 'eggs' : colony.youngest(t);
    const at = order.indexOf(truth);
    const off = this.#d.chance(this.#eye.misjudgesBrood) ? (this.#d.chance(0.5) ? 1 : -1) : 0;
    const youngest = order[Math.min(4, Math.max(0, at + off))] ?? truth;
    const seen = { youngest, severalEggs, droneBrood };
    if (!this.#hive.eggsUnderMesh(t)) return seen;
    // Hers under the mesh are left out, as the form asks, or written down as being under it.
    if (youngest === 'eggs') return { ...seen, eggsOutsideMesh: true };
    return this.#d.chance(0.5) ? seen : { ...seen, youngest: 'eggs', eggsOutsideMesh: false };
  }

  /** The look after a release: no longer than needed, every frame once. */
  queen(t: number): Extract<FactPayload, { kind: 'looked-for-queen' }> {
    const { colony, queen } = this.#hive;
    this.#hive.settle(t);
    const here = this.#hive.freeAndWell(t);
    const { severalEggs, droneBrood } = this.#brood(t);
    const laying = queen?.layer && here && queen.layer.from < t - 0.3;
    const rivalEggs = colony.layers.some((l) => l.who !== 'hers' && l.from < t - 0.3 && t < l.until);
    const left =
      queen?.layer &&
      queen.lostAt !== null &&
      queen.layer.from < queen.lostAt &&
      t - queen.lostAt < colony.nature.eggDays;
    const standing = colony.standing(t).filter(() => !this.#d.chance(Math.min(0.8, 2 * this.#eye.misses)));
    const open = standing.filter((cell) => cell.sealed > t).length;
    const shells = colony.shells(t);
    const otherQueen = !here && (rivalEggs || colony.virginsAt(t).length > 0) && this.#d.chance(0.3);
    return {
      kind: 'looked-for-queen',
      cageEmpty: queen?.freeAt != null && t > queen.freeAt,
      // A young queen of the colony's own is taken for her by whoever did not mark her.
      queenSeen: (here && this.#d.chance(this.#eye.seesQueen)) || otherQueen,
      eggsSeen: (Boolean(laying || rivalEggs || left) && this.#d.chance(0.95)) || severalEggs,
      sealedWorkerBroodSeen: queen?.droneLayer !== true && this.#sealedBroodOf(t) && this.#d.chance(0.97),
      cells: { open, sealed: standing.length - open, emerged: shells.emerged, tornDown: shells.tornDown },
      behaviour: this.#hive.rivalAt(t) !== null && this.#d.chance(0.2) ? 'hostile' : 'calm',
      severalEggsACell: severalEggs,
      droneBroodInWorkerCells: droneBrood,
    };
  }

  #sealedBroodOf(t: number): boolean {
    const { colony } = this.#hive;
    return colony.layers.some(
      (l) => l.who !== 'old' && l.from + colony.nature.workerSealedDays < t && l.until > l.from + 0.5,
    );
  }

  /** Whether a queen that walks free is found on the way through every frame. */
  findsQueen(): boolean {
    return this.#d.chance(this.#eye.seesQueen);
  }

  chance(p: number): boolean {
    return this.#d.chance(p);
  }
}
