/** A chill that was told ahead has come, and has not lasted long enough to be told as chilling: what its alert says until then. */
import { openBroodDoseKh, sealedBroodDoseKh } from '../../../biology/figures.ts';
import { below } from '../../engine/conditions.ts';
import { noData, notApplicable } from '../../engine/rule.ts';
import type { AlertMessage, Evaluation } from '../../engine/types.ts';
import type { BroodAtStake } from './brood-at-stake.ts';
import { beside, clock, degC, hours, say } from '../../../words/phrase.ts';
import { hourMs } from '../../../durations.ts';

/** Setting: so long the alert stands at most once the brood is just over its limit again, ms. */
const standsMs = 3 * hourMs;
/** Setting: hours ahead up to which a moment of harm is named; colder than this it stays, as far as one can tell. */
const namedHours = 12;

export const helpItKeepWarm = (isShut: boolean): Pick<AlertMessage, 'todo' | 'settleBy'> =>
  isShut
    ? {
        todo: say`Go and help it keep warm from outside: insulate, narrow the entrance, shelter it. Keep it shut: the queen has just been let out.`,
        settleBy: say`Is the box warm under the lid?`,
      }
    : {
        todo: say`Go and help it keep warm: insulate, narrow the entrance, bring bees or a warm place for the night.`,
        settleBy: say`Do bees cover the brood from edge to edge?`,
      };

/** With `no`: nothing new is raised. Not applicable where no reading tells since when, or a visit explains it; a probe that fell silent ends nothing. */
export function foreseenHasCome(
  { signals, what, why }: Extract<BroodAtStake, { ok: true }>,
  isShut: boolean,
  nowMs: number,
): Evaluation {
  const dose = signals.doses.find((one) => one.what === what && one.direction === 'cold');
  if (!dose || dose.nowC === null) return noData('no recent brood temperature');
  if (!dose.beyondNow || dose.sinceMs === null)
    return notApplicable('what was ahead has come: the brood is under the limit');
  if (dose.excused) return notApplicable('the brood cooled at a visit');
  const { nowC, limitC, sinceMs } = dose;
  const harmKh = (what === 'sealed-brood' ? sealedBroodDoseKh : openBroodDoseKh).value;
  const leftHours = Math.max(0, harmKh - dose.degreeHours) / (limitC - nowC);
  const harmMs = leftHours > 0 && leftHours <= namedHours ? nowMs + leftHours * hourMs : null;
  const takes = say`It takes about ${hours(harmKh)} at a degree under the limit to harm it, or half of that at two degrees.`;
  return {
    verdict: 'no',
    clear: false,
    conditions: [below('Brood under its limit', nowC, limitC, '°C')],
    message: {
      ...helpItKeepWarm(isShut),
      untilMs: nowMs + standsMs,
      ...(harmMs !== null && { byMs: harmMs }),
      seen: say`Brood went under ${degC(limitC)} at ${clock(sinceMs)}, and is at ${beside(degC(nowC), limitC)}.`,
      why,
      howSure:
        harmMs === null
          ? takes
          : say`${takes} If it stays as cold as now, that is at about ${clock(harmMs)}.`,
      facts: [
        { name: 'Under its limit since', ...clock(sinceMs) },
        { name: 'Brood', ...beside(degC(nowC), limitC) },
      ],
    },
    evidence: { place: 'brood', fromMs: sinceMs - 6 * hourMs, toMs: nowMs, limit: limitC },
  };
}
