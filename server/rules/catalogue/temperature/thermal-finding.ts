/** What the rules about cold and heat share: one dose, its limits, and the words for it. */
import type { BroodDay, ThermalDose } from '../../../signals/types.ts';
import { above, atLeast, below, holds } from '../../engine/conditions.ts';
import { beside, clock, degC, hours, say } from '../../../words/phrase.ts';
import { decide, limit, noData, type Finding } from '../../engine/rule.ts';
import type { AlertMessage, Evaluation } from '../../engine/types.ts';

export interface ThermalLimits {
  /** A reading older than this is no reading. */
  readonly staleMin: number;
  /** Degrees past the limit by which it must be easier again before it clears. */
  readonly easierK: number;
  readonly doseKh: number;
  /** Under this dose it is for today, not for now; absent where it is always for now. */
  readonly nowDoseKh?: number;
}

export const staleMin = limit(60, [10, 720], 'min', 'A reading older than this counts as none');

export const isStale = (atMs: number | null, nowMs: number, limitMin: number): boolean =>
  atMs === null || nowMs - atMs > limitMin * 60_000;

/** Method: days that tell the usual. */
const usualDays = 7;
/** Method: how many of them at least. */
const leastDays = 3;
/** Method: the share of a day that must be read. */
export const coveredDay = 0.6;

/** Middle of the lowest readings of the last week's days, °C; null with fewer than three days. */
export function usualLowestC(days: readonly BroodDay[]): number | null {
  const lowest = days
    .filter(({ coverage }) => coverage >= coveredDay)
    .slice(-usualDays)
    .map(({ minC }) => minC)
    .sort((a, b) => a - b);
  return lowest.length < leastDays ? null : (lowest[lowest.length >> 1] ?? null);
}

type Words = Pick<AlertMessage, 'todo' | 'why' | 'settleBy'> & { readonly what: string };

/** Cold or heat that is going on, not excused by a visit, and has added up to something. */
export function judgeDose(
  dose: ThermalDose | undefined,
  place: 'brood' | 'cage',
  { easierK, doseKh, nowDoseKh = 0, staleMin: oldest }: ThermalLimits,
  nowMs: number,
  words: () => Words,
): Evaluation {
  if (!dose || isStale(dose.nowAtMs, nowMs, oldest)) return noData(`no recent temperature at the ${place}`);
  const { nowC, limitC } = dose;
  const cold = dose.direction === 'cold';
  const past = cold ? below : above;
  const finding: Finding = {
    urgency: dose.degreeHours < nowDoseKh ? 'today' : 'now',
    conditions: [
      past(`Temperature at the ${place}`, nowC, limitC, '°C'),
      atLeast('Dose since then', dose.degreeHours, doseKh, '°C·h'),
      holds(
        'Not explained by a visit',
        !dose.excused,
        dose.excused ? 'visit within the hour' : 'no visit',
        'no visit',
      ),
    ],
    clear: () => nowC !== null && (cold ? nowC >= limitC + easierK : nowC <= limitC - easierK),
    message: () => messageOf(dose, nowMs, words()),
    evidence: { place, fromMs: (dose.sinceMs ?? nowMs) - 6 * 3_600_000, toMs: nowMs, limit: limitC },
  };
  return decide(finding);
}

function messageOf(dose: ThermalDose, nowMs: number, { todo, why, settleBy, what }: Words): AlertMessage {
  const since = dose.sinceMs ?? nowMs;
  const side = dose.direction === 'cold' ? 'under' : 'over';
  const now = beside(degC(dose.nowC ?? dose.limitC), dose.limitC);
  return {
    todo,
    seen: say`${what} at ${now}, ${side} ${degC(dose.limitC)} since ${clock(since)}.`,
    why,
    howSure: say`Measured at one spot; a probe that slipped off the cluster reads the same.`,
    ...(settleBy && { settleBy }),
    facts: [
      { name: 'Temperature', ...now },
      { name: 'Limit', ...degC(dose.limitC) },
      { name: 'Lasting', ...hours((nowMs - since) / 3_600_000) },
      { name: 'Dose', value: dose.degreeHours, unit: '°C·h' },
    ],
  };
}
