/**
 * What limits the forager drift: the same fit on the same nucs, told what no sensor tells. What the truth knows of a
 * cause is taken off the weight, and the fit is told that nothing of it is left.
 */
import type { AnalysisInput } from '../../server/signals/analyse.ts';
import { driftBeliefs, type DriftBeliefs } from '../../server/signals/drift/drift-beliefs.ts';
import { forageDriftOf } from '../../server/signals/drift/forager-drift.ts';
import { driftInput, readDays, upTo } from '../../server/signals/read-days.ts';
import { dayMs, simulatedCase } from '../signals/simulated.ts';
import { inputOf } from './drift-truths.ts';
import { medianLevel, type Level } from './level.ts';
import { secondWorld } from './second-generator.ts';

const nothing = { mean: 0, sd: 1e-3 };
const minuteMs = 60_000;

/** A split and what only its truth knows, g, at any instant. */
interface KnownSplit {
  readonly input: AnalysisInput;
  readonly movedAtMs: number;
  readonly goneG: (atMs: number) => number;
  readonly roofG: (atMs: number) => number;
  /** All of the box but the foragers gone: eaten, brought in, dried, died, afield. What the keeper put in or took is a step. */
  readonly ownG: (atMs: number) => number;
  /** The box without the scale's drift, creep and noise, and without the roof. */
  readonly boxG: (atMs: number) => number;
}

interface Oracle {
  readonly knows: string;
  readonly beliefs: DriftBeliefs;
  /** A weight as it would be with what is known taken off. */
  readonly rid: (weightG: number, split: KnownSplit, atMs: number) => number;
}

function simulatedSplit(seed: number, setting: 'usual' | 'unseen', days: number): KnownSplit {
  const { nuc, input } = simulatedCase({ seed, setting, days });
  const { truth } = nuc;
  const minute = (atMs: number): number =>
    Math.min(truth.minutes - 1, Math.max(0, Math.round((atMs - truth.startMs) / minuteMs)));
  const stepsG = (toMs: number): number =>
    truth.events
      .filter((e) => (e.kind === 'added' || e.kind === 'taken') && e.atMs <= toMs)
      .reduce((sum, e) => sum + (e.sizeG ?? 0), 0);
  const goneG = (atMs: number): number => truth.driftedMassG[minute(atMs)] as number;
  const boxG = (atMs: number): number => truth.boxMassG[minute(atMs)] as number;
  return {
    input,
    movedAtMs: nuc.splitMs,
    goneG,
    roofG: (atMs) => truth.roofWaterG[minute(atMs)] as number,
    ownG: (atMs) =>
      boxG(atMs) + goneG(atMs) - truth.atSplit.boxG - stepsG(truth.startMs + minute(atMs) * minuteMs),
    boxG,
  };
}

function secondSplit(seed: number, days: number): KnownSplit {
  const world = secondWorld(seed, { days });
  const at =
    (of: Float64Array) =>
    (atMs: number): number =>
      of[
        Math.min(of.length - 1, Math.max(0, Math.round((atMs - world.movedAtMs) / (5 * minuteMs))))
      ] as number;
  return {
    input: inputOf(world),
    movedAtMs: world.movedAtMs,
    goneG: at(world.goneG),
    roofG: at(world.roofG),
    ownG: at(world.ownG.map((g) => g - (world.ownG[0] as number))),
    boxG: at(world.boxG),
  };
}

const ownAccountKnown = {
  eatenGPerHPer1000: nothing,
  warmthGPerKh: nothing,
  income: { ...nothing, daySd: 0 },
  afieldG: nothing,
};
const roofKnown = { roofG: { ...nothing, dryingShare: 0, rainShare: 0 } };

const oracles: readonly Oracle[] = [
  { knows: 'what the sensors tell', beliefs: driftBeliefs, rid: (g) => g },
  {
    knows: 'the water on the roof',
    beliefs: { ...driftBeliefs, ...roofKnown },
    rid: (g, { roofG }, atMs) => g - roofG(atMs),
  },
  {
    knows: 'what was eaten, brought in, dried and died',
    beliefs: {
      ...driftBeliefs,
      ...ownAccountKnown,
      restless: [{ wanderG: 3, dayG: 0, blurG: 13, weight: 1 }],
    },
    rid: (g, { ownG }, atMs) => g - ownG(atMs),
  },
  {
    knows: 'both of these',
    beliefs: {
      ...driftBeliefs,
      ...ownAccountKnown,
      ...roofKnown,
      restless: [{ wanderG: 3, dayG: 0, blurG: 13, weight: 1 }],
    },
    rid: (g, { roofG, ownG }, atMs) => g - roofG(atMs) - ownG(atMs),
  },
  {
    // A scale without drift, wandering, creep and noise.
    knows: 'the weight to the gram and the water on the roof',
    beliefs: {
      ...driftBeliefs,
      ...roofKnown,
      scaleGPerK: nothing,
      restless: [{ wanderG: 5, dayG: 5, blurG: 3, weight: 1 }],
    },
    rid: (_, { boxG }, atMs) => boxG(atMs),
  },
];

function errorsOf(split: KnownSplit, oracle: Oracle, onDays: readonly number[]): (number | null)[] {
  const { input, movedAtMs, goneG } = split;
  const weightG = input.series.weightG as NonNullable<typeof input.series.weightG>;
  const value = weightG.value.map((v, i) => oracle.rid(v, split, weightG.atMs[i] as number));
  const told = { ...input, series: { ...input.series, weightG: { atMs: weightG.atMs, value } } };
  return onDays.map((day) => {
    const nowMs = movedAtMs + day * dayMs;
    const seen = upTo(told, nowMs);
    const { days } = readDays(seen, nowMs, undefined);
    const { drift } = forageDriftOf({ ...driftInput(seen, days, nowMs), beliefs: oracle.beliefs });
    const massG = goneG(nowMs);
    return massG < 20 || !drift.massG.ok ? null : Math.abs(drift.massG.value / massG - 1);
  });
}

function limitsIn(
  world: string,
  seeds: readonly number[],
  make: (seed: number, days: number) => KnownSplit,
): Level[] {
  const onDays = [3, 5];
  const byOracle = oracles.map((): number[][] => onDays.map(() => []));
  for (const seed of seeds) {
    const split = make(seed, Math.max(...onDays) + 0.1);
    oracles.forEach((oracle, k) =>
      errorsOf(split, oracle, onDays).forEach((error, d) => {
        if (error !== null) byOracle[k]?.[d]?.push(error);
      }),
    );
  }
  return onDays.flatMap((day, d) =>
    oracles.map(({ knows }, k) =>
      medianLevel(`${world}: mass lost on day ${String(day)}, knowing ${knows}`, byOracle[k]?.[d] ?? [], {}),
    ),
  );
}

/** No goals: these say what the goal of the drift would take. The second generator has one setting. */
export function driftLimits(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  return [
    ...limitsIn('simulator', seeds, (seed, days) => simulatedSplit(seed, setting, days)),
    ...(setting === 'usual' ? limitsIn('second generator', seeds, secondSplit) : []),
  ];
}
