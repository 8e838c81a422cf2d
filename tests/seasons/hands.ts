/** The hands and the pencil: each act done at the hive and written down truthfully, whoever decided on it. */
import type { FactPayload, LogEntry } from '../../server/introduction/log/facts.ts';
import { luck } from './nature.ts';
import type { Scene } from './scene.ts';

type Outcome = Extract<FactPayload, { kind: 'outcome' }>['outcome'];

export interface DiaryLine {
  readonly t: number;
  readonly fact: FactPayload;
}

export class Hands {
  readonly log: LogEntry[] = [];
  readonly diary: DiaryLine[] = [];
  readonly days = new Set<number>();
  /** A cell was passed over, or a frame left out, before she was let out. */
  passedOver = false;
  frameIn: { readonly t: number; readonly queenFree: boolean } | null = null;
  /** Next queen on her way. */
  coming: { readonly t: number; readonly alive: boolean } | null;
  readonly scene: Scene;
  #queens = 0;

  constructor(scene: Scene) {
    this.scene = scene;
    this.coming = scene.post;
  }

  write(t: number, fact: FactPayload): void {
    const atMs = this.scene.toMs(t);
    this.diary.push({ t, fact });
    this.log.push({
      id: `entry-${String(this.log.length).padStart(4, '0')}`,
      introductionId: this.scene.setup.id,
      type: 'fact',
      happenedAtMs: atMs,
      writtenAtMs: atMs + 60_000,
      fact,
    });
  }

  /** At the hive on this day. */
  #visit(t: number): void {
    this.days.add(Math.floor(t));
    this.scene.hive.opened(t);
  }

  /** Post, and a look at the queen in hand, at home. Returns true where a queen came. */
  atHome(t: number): void {
    const { hive, d } = this.scene;
    const before = hive.queen;
    const wasInHand = before?.where === 'in-hand';
    hive.dayPasses(t);
    if (wasInHand && before.where === 'dead') {
      this.write(t, { kind: 'queen-dead' });
      this.#order(t);
    }
    if (!this.coming || this.coming.t > t) return;
    const { alive } = this.coming;
    this.coming = null;
    const queen = hive.take(`queen-${String(++this.#queens)}`, t, alive);
    this.write(t, { kind: 'queen-arrived', queenId: queen.id, condition: alive ? 'alive' : 'dead' });
    if (!alive) this.coming = { t: t + d.whole(3, 9), alive: true };
  }

  #order(t: number): void {
    this.coming ??= {
      t: Math.floor(t) + this.scene.d.whole(3, 9) + 8 / 24,
      alive: !this.scene.d.chance(luck.deadOnArrival),
    };
  }

  split(t: number): void {
    this.#visit(t);
    this.write(t, this.scene.split(t));
  }

  /** Returns whether every frame was gone through. */
  lookForCells(t: number, cuts: boolean): boolean {
    this.#visit(t);
    const { sight, hive } = this.scene;
    const seen = sight.cells(t);
    if (seen.passedOver || !seen.everyFrame) this.passedOver = true;
    const shared = {
      cells: seen.counts,
      everyFrameChecked: seen.everyFrame,
      beesShakenOff: true,
      ...(seen.everyFrame ? {} : { framesSkipped: 1 }),
      youngestBrood: seen.youngest,
      virginSeen: seen.virgin,
      severalEggsACell: seen.severalEggs,
      droneBroodInWorkerCells: seen.droneBrood,
      ...(seen.eggsOutsideMesh === undefined ? {} : { eggsOutsideMesh: seen.eggsOutsideMesh }),
    };
    if (cuts) {
      this.write(t, { kind: 'cells-cut', ...shared, youngLarvaInOpenCell: seen.youngLarvaInOpenCell });
      hive.colony.cut(seen.found, t + 0.001);
    } else this.write(t, { kind: 'inspection', ...shared, layingQueenSeen: false });
    this.#catch(t + 0.002, seen.virgin);
    return seen.everyFrame;
  }

  /** Who sees a virgin, or a laying queen that should not be there, catches her, mostly. */
  #catch(t: number, virginSeen: boolean): void {
    const { sight, hive } = this.scene;
    const [virgin] = hive.colony.virginsAt(t);
    const laying = hive.colony.layers.find((l) => l.who !== 'hers' && l.from <= t && t < l.until);
    if (laying && sight.findsQueen()) {
      this.write(t, { kind: 'queen-removed', which: laying.who === 'old' ? 'old-queen' : 'young-queen' });
      if (virgin) hive.colony.remove(virgin, t);
      laying.until = t;
      hive.colony.lose(t);
      this.#frameAnew(t);
    } else if (virgin && virginSeen && sight.chance(0.8)) {
      this.write(t, { kind: 'queen-removed', which: 'virgin' });
      hive.colony.remove(virgin, t);
      this.#frameAnew(t);
    }
  }

  /** With a queen gone, whether they start cells on a frame that is in is open again. */
  #frameAnew(t: number): void {
    if (this.frameIn) this.frameIn = { t, queenFree: this.scene.hive.colony.queenFree(t) };
  }

  hang(t: number): void {
    const { hive, d } = this.scene;
    const { queen } = hive;
    if (queen?.where !== 'in-hand') return;
    this.#visit(t);
    this.write(t, { kind: 'cage-hung', queenId: queen.id, candyEnd: 'closed' });
    if (!d.chance(luck.escapes)) {
      hive.hang(t);
      return;
    }
    const to = hive.escape(t + 0.003);
    this.write(t + 0.003, { kind: 'queen-escaped', to });
    if (to === 'outside') this.#order(t);
  }

  /** Returns whether she lives. */
  watchCage(t: number): boolean {
    const { hive } = this.scene;
    const { queen } = hive;
    if (queen?.cagedAt == null || queen.where === 'out') return true;
    this.#visit(t);
    const queenAlive = queen.where === 'caged';
    this.write(t, { kind: 'cage-checked', behaviour: hive.bites(t) ? 'biting' : 'feeding', queenAlive });
    if (!queenAlive) {
      this.write(t + 0.001, { kind: 'cage-taken-out', queen: 'in-the-cage' });
      this.#order(t);
    }
    return queenAlive;
  }

  letOut(t: number): void {
    const { hive, method } = this.scene;
    this.#visit(t);
    const mesh = method === 'push-in-cage';
    if (mesh && hive.balled(t)) {
      this.write(t, { kind: 'cage-taken-out', queen: 'left-in-nuc' });
      this.write(t + 0.002, { kind: 'balled', rescued: true });
      const { queen } = hive;
      if (queen) queen.where = 'in-hand';
      return;
    }
    hive.letOut(t, mesh);
    this.write(
      t,
      mesh ? { kind: 'cage-taken-out', queen: 'left-in-nuc' } : { kind: 'candy-opened', plug: 'whole' },
    );
  }

  lookForQueen(t: number): Extract<FactPayload, { kind: 'looked-for-queen' }> {
    const { sight, hive } = this.scene;
    this.#visit(t);
    const seen = sight.queen(t);
    this.write(t, seen);
    const { queen } = hive;
    // A dead queen on the floor is found now and then.
    if (queen?.lostAt != null && queen.lostAt < t && t - queen.lostAt < 10 && sight.chance(0.1))
      this.write(t + 0.002, { kind: 'queen-dead' });
    return seen;
  }

  testFrameIn(t: number): void {
    this.#visit(t);
    this.frameIn = { t, queenFree: this.scene.hive.colony.queenFree(t) };
    this.write(t, { kind: 'brood-frame-added', brood: 'eggs-or-young-larvae', asTestFrame: true });
  }

  testFrameOut(t: number): void {
    this.#visit(t);
    const { hive, d } = this.scene;
    const queenFree = hive.colony.queenFree(t);
    const chance = this.frameIn?.queenFree === true ? 0.02 : queenFree ? 0.5 : 0.93;
    this.frameIn = null;
    this.write(t, {
      kind: 'brood-frame-taken',
      asTestFrame: true,
      cellsOnIt: d.chance(chance) ? d.whole(1, 7) : 0,
    });
  }

  /** Goes through every frame for a queen that should not be there; found or not, a test frame follows where she was not. */
  takeQueenOut(t: number): void {
    this.lookForCells(t, true);
    const last = this.diary.at(-1)?.fact;
    if (last?.kind !== 'queen-removed' && this.frameIn === null) this.testFrameIn(t + 0.005);
  }

  /** The queen that never laid, or lays drones alone, is taken for good where she is found and still does no better. */
  takeFailingOut(t: number): void {
    const { queenSeen, eggsSeen, droneBroodInWorkerCells } = this.lookForQueen(t);
    if (!queenSeen || (eggsSeen && !droneBroodInWorkerCells)) return;
    const { hive } = this.scene;
    if (hive.queen && hive.freeAndWell(t))
      Object.assign(hive.queen, { where: 'dead', lostAt: t, lostTo: 'no-cause' });
    this.write(t + 0.002, { kind: 'queen-dead' });
  }

  giveBrood(t: number): void {
    this.#visit(t);
    this.scene.hive.colony.bringBrood(t);
    this.write(t, { kind: 'brood-frame-added', brood: 'eggs-or-young-larvae', asTestFrame: false });
  }

  end(t: number, outcome: Outcome): void {
    this.write(t, { kind: 'outcome', outcome });
  }
}
