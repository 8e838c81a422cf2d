/** Adults in the nuc today: one number for its page, its answers and its alerts. */
import { nucPopulation, type DriftMeasured } from '../introduction/population.ts';
import type { IntroductionState } from '../introduction/state.ts';
import type { Estimate, MassDeparture, NucSignals } from '../signals/types.ts';
import { level90 } from '../signals/statistics/intervals.ts';
import { isSure } from '../signals/weight/mass-departure.ts';
import { dayOf, say } from '../words/phrase.ts';

/** Bees that flew home as the scale tells it; null where it can't. */
export function driftMeasured(signals: NucSignals | null): DriftMeasured | null {
  const bees = signals?.drift.bees;
  return bees?.ok ? { bees: bees.value, low: bees.low, high: bees.high } : null;
}

/** The last of the departures in a mass that bees did not come home from; undefined where there was none. */
export const leftTogether = (signals: NucSignals | null): MassDeparture | undefined =>
  signals?.massDepartures.findLast((one) => isSure(one, signals.nowMs));

/**
 * Bees of the split less those that flew home, with the brood that has emerged: by the scale where it tells what left, else by
 * the usual share. Declines where the split was not counted, and once bees left together: how many stayed, nobody knows.
 */
export function beesNow(state: IntroductionState | null, signals: NucSignals | null): Estimate {
  const measured = driftMeasured(signals);
  const told = state && nucPopulation(state, measured);
  if (!told) return { ok: false, why: 'the frames of bees at the split are not entered' };
  const left = leftTogether(signals);
  if (left) return { ok: false, why: say`bees left together on ${dayOf(left.fromMs)}` };
  const { projection, counted } = told;
  const { days } = projection;
  const today = days[Math.floor(state.dayNumber ?? 0)] ?? days.at(-1);
  if (!today) return { ok: false, why: 'the split is not dated' };
  return {
    ok: true,
    value: today.bees,
    low: Math.min(today.low, today.bees),
    high: Math.max(today.high, today.bees),
    level: level90,
    restsOn: [
      counted
        ? `${String(counted.framesOfBees)} frames of bees counted on day ${String(counted.day)}, with the brood that has emerged since`
        : `${String(state.split?.framesOfBees)} frames of bees at the split, with the brood that has emerged`,
      signals?.drift.stay
        ? 'none flew home: it was moved too far'
        : measured
          ? 'less those that flew home, by the scale'
          : 'less the usual share that flies home',
    ],
  };
}
