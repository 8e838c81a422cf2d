/**
 * What limits the forager drift: the same fit on the same nucs, told what no sensor tells. What the truth knows of a
 * cause is taken off the weight, and the fit is told that nothing of it is left.
 */
import { driftBeliefs, type DriftBeliefs } from '../../server/signals/drift/drift-beliefs.ts';
import { forageDriftOf } from '../../server/signals/drift/forager-drift.ts';
import { driftInput, readDays, upTo } from '../../server/signals/read-days.ts';
import { dayMs, simulatedCase, type SimulatedCase } from '../signals/simulated.ts';
import { medianLevel, type Level } from './level.ts';

const nothing = { mean: 0, sd: 1e-3 };
const minuteMs = 60_000;

interface Oracle {
  readonly knows: string;
  readonly beliefs: DriftBeliefs;
  /** A weight as it would be with what is known taken off. */
  readonly rid: (weightG: number, simulated: SimulatedCase, minute: number) => number;
}

const roofG = ({ nuc }: SimulatedCase, minute: number): number => nuc.truth.roofWaterG[minute] as number;

/** All of the box but the foragers gone: eaten, brought in, dried, died, afield. What the keeper put in or took is a step. */
function ownAccountG({ nuc }: SimulatedCase, minute: number): number {
  const { truth } = nuc;
  const stepsG = truth.events
    .filter((e) => (e.kind === 'added' || e.kind === 'taken') && e.atMs <= truth.startMs + minute * minuteMs)
    .reduce((sum, e) => sum + (e.sizeG ?? 0), 0);
  return (
    (truth.boxMassG[minute] as number) + (truth.driftedMassG[minute] as number) - truth.atSplit.boxG - stepsG
  );
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
    rid: (g, simulated, minute) => g - roofG(simulated, minute),
  },
  {
    knows: 'what was eaten, brought in, dried and died',
    beliefs: {
      ...driftBeliefs,
      ...ownAccountKnown,
      restless: [{ wanderG: 3, dayG: 0, blurG: 13, weight: 1 }],
    },
    rid: (g, simulated, minute) => g - ownAccountG(simulated, minute),
  },
  {
    knows: 'both of these',
    beliefs: {
      ...driftBeliefs,
      ...ownAccountKnown,
      ...roofKnown,
      restless: [{ wanderG: 3, dayG: 0, blurG: 13, weight: 1 }],
    },
    rid: (g, simulated, minute) => g - roofG(simulated, minute) - ownAccountG(simulated, minute),
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
    rid: (_, { nuc }, minute) => nuc.truth.boxMassG[minute] as number,
  },
];

function errorsOf(simulated: SimulatedCase, oracle: Oracle, onDays: readonly number[]): (number | null)[] {
  const { nuc, input } = simulated;
  const { startMs, minutes, driftedMassG } = nuc.truth;
  const weightG = input.series.weightG as NonNullable<typeof input.series.weightG>;
  const minuteOf = (atMs: number): number =>
    Math.min(minutes - 1, Math.max(0, Math.round((atMs - startMs) / minuteMs)));
  const value = weightG.value.map((v, i) => oracle.rid(v, simulated, minuteOf(weightG.atMs[i] as number)));
  const told = { ...input, series: { ...input.series, weightG: { atMs: weightG.atMs, value } } };
  return onDays.map((day) => {
    const nowMs = nuc.splitMs + day * dayMs;
    const seen = upTo(told, nowMs);
    const { days } = readDays(seen, nowMs, undefined);
    const { drift } = forageDriftOf({ ...driftInput(seen, days, nowMs), beliefs: oracle.beliefs });
    const massG = driftedMassG[day * 1440] as number;
    return massG < 20 || !drift.massG.ok ? null : Math.abs(drift.massG.value / massG - 1);
  });
}

/** No goals: these say what the goal of the drift would take. */
export function driftLimits(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  const onDays = [3, 5];
  const byOracle = oracles.map((): number[][] => onDays.map(() => []));
  for (const seed of seeds) {
    const simulated = simulatedCase({ seed, setting, days: Math.max(...onDays) + 0.1 });
    oracles.forEach((oracle, k) =>
      errorsOf(simulated, oracle, onDays).forEach((error, d) => {
        if (error !== null) byOracle[k]?.[d]?.push(error);
      }),
    );
  }
  return onDays.flatMap((day, d) =>
    oracles.map(({ knows }, k) =>
      medianLevel(`mass lost on day ${String(day)}, knowing ${knows}`, byOracle[k]?.[d] ?? [], {}),
    ),
  );
}
