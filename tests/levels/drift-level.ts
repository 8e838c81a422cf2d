/** Mass of the foragers that a moved split loses, and the answer to "may I cut?", on splits of four worlds. */
import { newAnalysisCache } from '../../server/signals/analyse.ts';
import { forageDriftOf } from '../../server/signals/drift/forager-drift.ts';
import { driftInput, readDays, upTo } from '../../server/signals/read-days.ts';
import type { ForagerDrift } from '../../server/signals/types.ts';
import { driftRowsOf, type DriftRow } from './drift-cases.ts';
import { medianLevel, shareLevel, type Level } from './level.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
/** A move is made about noon: the mornings are these hours after it. */
const firstMorningH = 20;
const mornings = 7;
/** Who is told that the foragers have gone, and asks, is right from nine in ten on; from nineteen in twenty on it should be said. */
const enoughGone = 0.9;
const surelyGone = 0.95;

export interface DriftCase {
  /** The mass on days 3 and 5: true, told, and whether the interval holds it; null where it is declined. */
  readonly mass: readonly {
    readonly trueG: number;
    readonly toldG: number | null;
    readonly covered: boolean;
  }[];
  /** Each morning's true share, what was said, and whether the share's interval holds it; null where the scale tells none. */
  readonly mornings: readonly {
    readonly share: number;
    readonly saidGone: boolean;
    readonly covered: boolean | null;
  }[];
}

const massDays: readonly number[] = [3, 5];

function driftCase(row: DriftRow, seed: number): DriftCase {
  const truth = row.make(seed, mornings + 0.5);
  const cache = newAnalysisCache();
  const at = (hours: number): ForagerDrift => {
    const nowMs = truth.movedAtMs + hours * hourMs;
    const seen = upTo(truth.input, nowMs);
    const { days } = readDays(seen, nowMs, cache);
    return forageDriftOf(driftInput(seen, days, nowMs), cache).drift;
  };
  const mass: DriftCase['mass'][number][] = [];
  const said: DriftCase['mornings'][number][] = [];
  for (let morning = 0; morning < mornings; morning++) {
    const hours = firstMorningH + 24 * morning;
    const share = truth.goneShare(truth.movedAtMs + hours * hourMs);
    const { state, completeness, massG: weighed } = at(hours);
    const holdsIt =
      weighed.ok && completeness.ok ? completeness.low <= share && share <= completeness.high : null;
    said.push({ share, saidGone: state === 'gone', covered: holdsIt });
    const day = massDays.find((d) => d === morning + 1);
    if (day === undefined) continue;
    const { massG } = at(24 * day);
    const trueG = truth.goneG(truth.movedAtMs + day * dayMs);
    const covered = massG.ok && massG.low <= trueG && trueG <= massG.high;
    mass.push({ trueG, toldG: massG.ok ? massG.value : null, covered });
  }
  return { mass, mornings: said };
}

export interface DriftTally {
  readonly row: DriftRow;
  readonly cases: readonly DriftCase[];
}

export const driftTally = (row: DriftRow, seeds: readonly number[]): DriftTally => ({
  row,
  cases: seeds.map((seed) => driftCase(row, seed)),
});

/** Of the mornings on which it was said that they had gone, and of those on which they had. */
export function saidRight({ cases }: DriftTally): {
  right: number;
  said: number;
  found: number;
  gone: number;
} {
  const all = cases.flatMap((one) => one.mornings);
  const said = all.filter((m) => m.saidGone);
  const gone = all.filter((m) => m.share >= surelyGone);
  return {
    right: said.filter((m) => m.share >= enoughGone).length,
    said: said.length,
    found: gone.filter((m) => m.saidGone).length,
    gone: gone.length,
  };
}

export interface MassTally {
  readonly n: number;
  readonly told: number;
  readonly covered: number;
  readonly errors: readonly number[];
  readonly errorsG: readonly number[];
}

/** Masses on one of the days; a share of error is told of 20 g and more alone. */
export function massTally({ cases }: DriftTally, day: number): MassTally {
  const all = cases.flatMap((one) => one.mass[massDays.indexOf(day)] ?? []);
  const told = all.flatMap(({ trueG, toldG, covered }) =>
    toldG === null ? [] : [{ trueG, toldG, covered }],
  );
  return {
    n: all.length,
    told: told.length,
    covered: told.filter((one) => one.covered).length,
    errors: told.flatMap(({ trueG, toldG }) => (trueG < 20 ? [] : [Math.abs(toldG / trueG - 1)])),
    errorsG: told.map(({ trueG, toldG }) => Math.abs(toldG - trueG)),
  };
}

function rowLevels(tally: DriftTally): Level[] {
  const { row } = tally;
  const { goals } = row;
  const five = massTally(tally, 5);
  const three = massTally(tally, 3);
  const cut = saidRight(tally);
  const name = (what: string): string => `${row.name}: ${what}`;
  const declined = shareLevel(
    name('mass declined on day 5, or held by its interval'),
    five.n - five.told + five.covered,
    five.n,
    {
      ...(goals.declines !== undefined && { atLeast: goals.declines }),
    },
  );
  const inG = {
    ...medianLevel(
      name('mass on day 5, median error'),
      five.errorsG.map((g) => g / 100),
      {},
    ),
    unit: 'g' as const,
  };
  const inShare = medianLevel(
    name('mass on day 5, median error'),
    five.errors,
    goals.mass ? { atMost: 5 } : {},
  );
  const massLevels = [
    medianLevel(name('mass on day 3, median error'), three.errors, {}),
    {
      ...inShare,
      goal: goals.mass ? '≤ 5 % or ≤ 25 g' : '',
      met: !goals.mass || inShare.met || inG.achieved <= 25,
    },
    inG,
    shareLevel(
      name('mass on day 5, 90 % interval covers'),
      five.covered,
      five.told,
      goals.covers ? { atLeast: 85, atMost: 97 } : {},
    ),
  ];
  const shares = tally.cases.flatMap((one) => one.mornings).filter(({ covered }) => covered !== null);
  const shareCovers = shareLevel(
    name('share of a morning, 90 % interval covers'),
    shares.filter(({ covered }) => covered).length,
    shares.length,
    goals.covers ? { atLeast: 85 } : {},
  );
  const cutLevels = [
    shareLevel(
      name('said gone, and nine in ten were'),
      cut.right,
      cut.said,
      goals.cut ? { atLeast: goals.cut.precision } : {},
    ),
    shareLevel(
      name('nineteen in twenty gone, and said so'),
      cut.found,
      cut.gone,
      goals.cut ? { atLeast: goals.cut.recall } : {},
    ),
  ];
  const never = shareLevel(name('mornings told as gone'), cut.said, tally.cases.length * mornings, {
    atMost: 3,
  });
  if (goals.neverGone) return [never];
  return goals.declines === undefined ? [...massLevels, shareCovers, ...cutLevels] : [declined, ...cutLevels];
}

export function driftLevels(seeds: readonly number[]): Level[] {
  return driftRowsOf().flatMap((row) =>
    rowLevels(driftTally(row, seeds.slice(0, Math.ceil(seeds.length * (row.goals.mass ? 1 : 0.5))))),
  );
}
