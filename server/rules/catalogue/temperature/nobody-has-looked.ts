/**
 * Brood that was told as chilling and stays cold: the probe slipped out, or the nest is lost. The alert stands until
 * somebody has looked.
 */
import { holds } from '../../engine/conditions.ts';
import type { NucInput } from '../../engine/inputs.ts';
import type { Evaluation } from '../../engine/types.ts';
import { staysShut } from '../introduction-stage.ts';
import { broodAtStake } from './brood-at-stake.ts';
import { clock, degC, say } from '../../../words/phrase.ts';

/** With `no`: nothing new is raised. Null where the probe is in no such doubt, or a visit was logged since it began. */
export function nobodyHasLooked(
  { introduction, signals, lastVisitAtMs, nowMs }: NucInput,
  easierK: number,
): Evaluation | null {
  const brood = broodAtStake(introduction, signals);
  if (!brood.ok) return null;
  const { probePlace, doses } = brood.signals;
  const { state, how, sinceMs, why } = probePlace;
  const dose = doses.find((one) => one.what === brood.what && one.direction === 'cold');
  if (state !== 'unclear' || sinceMs === null || (how !== 'long' && how !== 'held-more') || !dose)
    return null;
  if (lastVisitAtMs !== null && lastVisitAtMs >= sinceMs) return null;
  const { limitC, nowC } = dose;
  return {
    verdict: 'no',
    clear: nowC !== null && nowC >= limitC + easierK,
    conditions: [holds('Somebody has looked since', false, 'no visit', 'a visit')],
    message: {
      todo: staysShut(introduction)
        ? say`Look today, from outside: do bees fly and fan, and is the box warm under the lid? Keep it shut: the queen has just been let out.`
        : say`Look today: do bees cover the brood, and does the probe lie among them? Log the visit.`,
      seen: say`Under ${degC(limitC)} since ${clock(sinceMs)}. ${why}.`,
      why: brood.why,
      howSure: say`A nest that is lost and a probe that slipped out read the same; nobody has looked since it began.`,
      settleBy: say`A look from above: is the probe among bees?`,
      facts: [{ name: 'Cold since', ...clock(sinceMs) }],
    },
    evidence: { place: 'brood', fromMs: sinceMs - 24 * 3_600_000, toMs: nowMs, limit: limitC },
  };
}
