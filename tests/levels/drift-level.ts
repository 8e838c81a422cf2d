/** Mass and number of the foragers that a moved split loses. */
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import { dayMs, simulatedCase } from '../signals/simulated.ts';
import { medianLevel, shareLevel, type Level } from './level.ts';

interface DriftCase {
  readonly massError: number;
  readonly beesError: number;
  readonly massCovered: boolean;
}

/** Errors after so many days; null where fewer than 20 g had left, which no scale under a nuc can tell. */
export function driftCases(
  seed: number,
  setting: 'usual' | 'unseen',
  onDays: readonly number[],
): (DriftCase | null)[] {
  const { nuc, input } = simulatedCase({ seed, setting, days: Math.max(...onDays) + 0.1 });
  const cache = newAnalysisCache();
  return onDays.map((day) => {
    const { drift } = analyseNuc(input, nuc.splitMs + day * dayMs, cache);
    const massG = nuc.truth.driftedMassG[day * 1440] as number;
    const bees = nuc.truth.driftedBees[day * 1440] as number;
    if (massG < 20 || !drift.massG.ok || !drift.bees.ok) return null;
    return {
      massError: Math.abs(drift.massG.value / massG - 1),
      beesError: Math.abs(drift.bees.value / bees - 1),
      massCovered: drift.massG.low <= massG && massG <= drift.massG.high,
    };
  });
}

export function driftLevels(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  const cases = seeds.map((seed) => driftCases(seed, setting, [3, 5]));
  return [3, 5].flatMap((day, i) => {
    const told = cases.flatMap((c) => c[i] ?? []);
    const errors = day === 3 ? { mass: 8, bees: 12 } : { mass: 4, bees: 10 };
    return [
      medianLevel(
        `mass lost, median error on day ${String(day)}`,
        told.map((c) => c.massError),
        { atMost: errors.mass },
      ),
      medianLevel(
        `foragers lost, median error on day ${String(day)}`,
        told.map((c) => c.beesError),
        { atMost: errors.bees },
      ),
      shareLevel(
        `mass lost, 90 % interval covers on day ${String(day)}`,
        told.filter((c) => c.massCovered).length,
        told.length,
        { atLeast: 85, atMost: 97 },
      ),
    ];
  });
}
