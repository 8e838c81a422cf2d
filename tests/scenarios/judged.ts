/** What a judge is given of a simulated nuc, and what it says of one alert. */
import type { SimulatedNuc } from '../../simulator/index.ts';
import type { RaisedAlert } from './run-scenario.ts';

/** What is looked up in the simulation. */
export interface True {
  readonly splitMs: number;
  readonly truth: Pick<SimulatedNuc['truth'], 'events' | 'chill' | 'close' | 'sure'>;
  /** Hours without a word from the device, after which it was heard again. */
  readonly silences?: readonly Silence[];
}

export interface Silence {
  readonly fromMs: number;
  readonly toMs: number;
}

export interface Judged {
  readonly rule: string;
  readonly expected: string;
  readonly raised: string;
  /** Hours from the true beginning to the alert; null where nothing was raised or nothing began. */
  readonly delayH: number | null;
  readonly problem: string | null;
}

export const dayMs = 86_400_000;
/** So long a sensor may be silent by the standard limits before it is told. */
export const leastSilenceMs = 3 * 3_600_000;

/** Gaps in what was sent, as the scale shows them: it shares its line with the probes. */
export function silencesOf({ readings }: Pick<SimulatedNuc, 'readings'>): Silence[] {
  const { takenAtMs } = readings.scale;
  return Array.from(takenAtMs, (toMs, i) => ({ fromMs: takenAtMs[i - 1] ?? toMs, toMs })).filter(
    ({ fromMs, toMs }) => toMs - fromMs >= leastSilenceMs,
  );
}

export const dayOf = (atMs: number, nuc: True): number => (atMs - nuc.splitMs) / dayMs;

export const told = ({ raisedAtMs, urgency, ruleId }: RaisedAlert, nuc: True): string =>
  `${ruleId} (${urgency}) on day ${dayOf(raisedAtMs, nuc).toFixed(2)}`;
