/**
 * What differs from colony to colony and from season to season: the agent colony's own figures. Each is drawn anew for
 * a colony, wider than the source's own spread, so that the tool is judged on colonies that it was not built from.
 *
 * Sources: Mussen et al. 1987 (egg 3 d, queen 16 d, worker 21 d), a Queensland table (queen cell sealed about 7.5 d),
 * Fell and Morse 1984 (11-49 cells, mean 20.4; larval ages; first cells 12-48 h, last by day 8-9), Hatch, Tarpy and
 * Fletcher 1999 (about half torn down), Miller and Ratnieks 2001 (laying workers within four weeks), a table of the
 * trade (virgins mate 6-10 days after emergence and lay 2-3 days later). "No source" is a guess, kept wide.
 */
import type { Dice } from '../oracle/dice.ts';

export interface Nature {
  /** Share of the usual development time: warm nests are faster. */
  readonly pace: number;
  readonly eggDays: number;
  /** From hatching on: workers can rear a queen from a larva until then. */
  readonly larvaDays: number;
  readonly queenDays: number;
  readonly queenSealedDays: number;
  readonly workerSealedDays: number;
  readonly workerDays: number;
  /** Cells that are started over a sudden loss, on average. */
  readonly cells: number;
  /** Weights of larvae in their first two days, third, fourth, and of eggs. */
  readonly ages: readonly [number, number, number, number];
  readonly firstCellDays: number;
  readonly lastCellDays: number;
  readonly tornDown: number;
  /** Once a laying queen walks free the bees tear down this share of what stands (common practice; no source). */
  readonly tornDownForQueen: number;
  /** Shells are cleared away within so many days. */
  readonly shellDays: number;
  /** Days without a queen and her open brood after which workers lay. */
  readonly layingWorkerDays: number;
  /** The bees cling to and bite any cage for so long after it was hung. */
  readonly crossDays: number;
}

export const nature = (d: Dice): Nature => {
  const pace = Math.min(1.05, Math.max(0.94, d.normal(0.995, 0.022)));
  return {
    pace,
    eggDays: d.between(2.9, 3.4) * pace,
    larvaDays: d.between(3.1, 4.05),
    queenDays: d.between(15.4, 16.4) * pace,
    queenSealedDays: d.between(7.2, 8.4),
    workerSealedDays: d.between(8.4, 9.4),
    workerDays: d.between(20, 21.8),
    cells: 4 + d.gamma(2.2, 7.5),
    ages: [d.between(0.5, 0.75), d.between(0.17, 0.33), d.between(0.05, 0.15), d.between(0, 0.03)],
    firstCellDays: d.between(0.4, 2.1),
    lastCellDays: d.between(6, 8.8),
    tornDown: d.between(0.3, 0.65),
    tornDownForQueen: d.between(0.2, 0.7),
    shellDays: d.between(0, 5),
    layingWorkerDays: d.between(22, 34),
    crossDays: d.chance(0.06) ? d.between(0.8, 5) : 0,
  };
};

/** How somebody works: no source but the trade's word that a look misses cells. */
export interface Eye {
  /** Share of cells passed over that are no easier or harder to see than others. */
  readonly misses: number;
  /** A frame is left out now and then; whoever notices writes it down. */
  readonly skipsFrame: number;
  readonly seesVirgin: number;
  readonly seesQueen: number;
  /** What lies one stage off is called by the wrong name so often. */
  readonly misjudgesBrood: number;
}

export const eye = (d: Dice): Eye => {
  const kind = d.unit();
  return {
    misses: kind < 0.6 ? d.between(0.01, 0.08) : kind < 0.92 ? d.between(0.08, 0.18) : d.between(0.18, 0.32),
    skipsFrame: d.between(0, 0.06),
    seesVirgin: d.between(0.15, 0.5),
    seesQueen: d.between(0.55, 0.9),
    misjudgesBrood: d.between(0, 0.06),
  };
};

/** What happens to queens, by chance a queen or a visit. No source but the trade's talk. */
export const luck = {
  early: 0.15,
  late: 0.2,
  deadOnArrival: 0.03,
  escapes: 0.01,
  diesInHandADay: 0.004,
  diesInHandLongADay: 0.03,
  longInHandDays: 8,
  diesInCageADay: 0.002,
  notAccepted: 0.035,
  droneLayer: 0.015,
  balledWithoutCause: 0.006,
  balledWithRival: 0.15,
  lostToVirgin: 0.85,
  lostToQueen: 0.95,
  lostToLayingWorkers: 0.7,
  lostToBiting: 0.5,
  lostToEarlyLook: 0.15,
  /** A first look three days on, after a visit at the end of which she was left to herself. */
  earlyLookDays: 2.9,
  cannotGo: 0.15,
} as const;
