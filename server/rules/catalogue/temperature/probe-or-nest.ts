/** Cold readings that no cold explains: the probe lies outside of the brood, or the bees are gone. */
import { isColdSinceBeesLeft } from '../../../signals/brood/probe-place.ts';
import { broodAtStake } from './brood-at-stake.ts';
import { clock, say } from '../../../words/phrase.ts';
import { decide, defineRule, noData, notApplicable } from '../../engine/rule.ts';
import { holds } from '../../engine/conditions.ts';
import { isStale } from './thermal-finding.ts';

const oldestMin = 60;

export const probeOrNest = defineRule({
  id: 'probe-or-nest',
  on: 'nuc',
  title: 'Brood probe or nest?',
  about:
    'The brood probe reads cold in a way that cold alone does not explain: it slipped out of the brood, or the bees are gone.',
  urgency: 'next-visit',
  holdMin: 60,
  clearHoldMin: 720,
  limits: {},
  sources: ['cooling of a nest by Newton’s law; the limits are ours'],
  evaluate({ introduction, signals, nowMs }) {
    const brood = broodAtStake(introduction, signals);
    if (!brood.ok) return notApplicable(brood.why);
    const { probePlace, brood: nest, massDepartures } = brood.signals;
    const { state, sinceMs, how, why } = probePlace;
    if (state === 'cannot-tell' || isStale(nest.latestAtMs, nowMs, oldestMin)) return noData(why);
    if (state === 'in-nest' && probePlace.putBackMs !== null)
      return notApplicable('a visit settled it: the probe has been warm since');
    if (isColdSinceBeesLeft(probePlace, massDepartures))
      return notApplicable('bees left in a mass before it: too few are left to heat the nest');
    const sinceHour = clock(sinceMs ?? nowMs);
    return decide({
      // Fallen at once and no witness: the bees may just have left.
      urgency: state === 'unclear' && how === 'sudden' ? 'today' : 'next-visit',
      conditions: [holds('Reads as a nest does', state !== 'in-nest', why, 'no')],
      clear: () => true,
      message: () => ({
        todo:
          state === 'slipped'
            ? say`At the next visit put the brood probe back between the brood combs.`
            : say`Look from outside: do bees fly and fan? At the next visit, or today if none do, see whether bees cover the brood and where the probe lies.`,
        seen: say`Since ${sinceHour}: ${why}.`,
        why: say`Until then nothing here tells whether the brood is warm.`,
        howSure:
          state === 'slipped'
            ? say`A second probe bears it out.`
            : say`It is no chilling by a cold night; a probe that slipped out and bees that left read the same.`,
        settleBy: say`A look from above: is the probe among bees?`,
        facts: [],
      }),
      evidence: { place: 'brood', fromMs: (sinceMs ?? nowMs) - 24 * 3_600_000, toMs: nowMs },
    });
  },
});
