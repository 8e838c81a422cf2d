/** "Foragers gone" is said in time, and never too early. */
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import { daysBetween } from '../../server/signals/days.ts';
import { simulatedCase, type SimulatedCase } from '../signals/simulated.ts';
import { shareLevel, type Level } from './level.ts';

const hourMs = 3_600_000;
const days = 9;

interface Verdict {
  /** Said by the evening of the first flying day after 95 % had gone; null where 95 % never went in the run. */
  readonly inTime: boolean | null;
  readonly tooEarly: boolean;
}

/** Instant at which a share of those who will leave has left; null when it never has. */
function whenGone({ nuc }: SimulatedCase, share: number): number | null {
  const { driftedBees, willDriftBees, startMs } = nuc.truth;
  const minute = driftedBees.findIndex((gone) => gone >= share * willDriftBees);
  return minute < 0 ? null : startMs + minute * 60_000;
}

/** Midnight after the first day with two hours of full flight that begins after `atMs`; null beyond the run. */
function nextFlyingEvening({ nuc }: SimulatedCase, atMs: number): number | null {
  const { flightHours, startMs, minutes } = nuc.truth;
  const hours = (ms: number): number =>
    flightHours[Math.min(minutes - 1, Math.max(0, Math.round((ms - startMs) / 60_000)))] as number;
  for (const day of daysBetween(nuc.place.timeZone, atMs, startMs + minutes * 60_000)) {
    if (day.fromMs < atMs || day.toMs > startMs + minutes * 60_000) continue;
    if (hours(day.toMs) - hours(day.fromMs) >= 2) return day.toMs;
  }
  return null;
}

export function goneVerdict(seed: number, setting: 'usual' | 'unseen'): Verdict {
  const simulated = simulatedCase({ seed, setting, days });
  const { nuc, input } = simulated;
  const cache = newAnalysisCache();
  let saidMs: number | null = null;
  for (let hour = 6; hour < days * 24 && saidMs === null; hour += 3) {
    const at = nuc.splitMs + hour * hourMs;
    if (analyseNuc(input, at, cache).drift.state === 'gone') saidMs = at;
  }
  const at80 = whenGone(simulated, 0.8);
  const at95 = whenGone(simulated, 0.95);
  const until = at95 === null ? null : nextFlyingEvening(simulated, at95);
  return {
    inTime: until === null ? null : saidMs !== null && saidMs <= until,
    tooEarly: saidMs !== null && (at80 === null || saidMs < at80),
  };
}

export function goneLevels(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  const verdicts = seeds.map((seed) => goneVerdict(seed, setting));
  const judged = verdicts.filter((v) => v.inTime !== null);
  return [
    shareLevel(
      'gone said within a flying day of 95 % gone',
      judged.filter((v) => v.inTime).length,
      judged.length,
      { atLeast: 90 },
    ),
    shareLevel('gone said before 80 % gone', verdicts.filter((v) => v.tooEarly).length, verdicts.length, {
      under: 1,
    }),
  ];
}
