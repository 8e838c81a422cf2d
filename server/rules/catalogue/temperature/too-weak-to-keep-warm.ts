/** The nuc has brood and too few bees to hold it warm, day after day. */
import { heldInBandPct, weakFollowsShare, weakInBandPct } from '../../../biology/figures.ts';
import { atLeast, atMost } from '../../engine/conditions.ts';
import { broodInReach } from './brood-at-stake.ts';
import { staysShut } from '../introduction-stage.ts';
import { degC, percent, say } from '../../../words/phrase.ts';
import { dayMs } from '../../../durations.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

export const tooWeakToKeepWarm = defineRule({
  id: 'too-weak-to-keep-warm',
  on: 'nuc',
  title: 'Too weak to keep its brood warm',
  about: 'Brood is outside its band most of the day and follows the weather: too few bees for the brood.',
  urgency: 'next-visit',
  holdMin: 720,
  clearHoldMin: 720,
  limits: {
    inBandPct: limit(
      weakInBandPct.value,
      [5, 90],
      '%',
      'Share of the last day in the expected band, at the most',
    ),
    easierPct: limit(heldInBandPct.value, [10, 95], '%', 'Share from which it clears'),
    coupling: limit(
      weakFollowsShare.value,
      [0.05, 1],
      '',
      'How far the brood follows the weather, at least: 0 not at all, 1 fully',
    ),
  },
  sources: ['Meikle et al. 2014; Cook et al. 2022 (bees and regulation); the limits are ours'],
  evaluate({ introduction, signals, nowMs }, { inBandPct, easierPct, coupling: least }) {
    const brood = broodInReach(introduction, signals);
    if (!brood.ok) return notApplicable(brood.why);
    const doubted = brood.signals.probePlace.doubts.at(-1);
    if (doubted && nowMs - doubted.toMs < dayMs)
      return notApplicable('for a part of the last day the probe lay outside of the brood');
    const { shareInBand, levelC, bandC } = brood.signals.brood;
    const share = shareInBand.ok ? shareInBand.value * 100 : null;
    const outOfBand = atMost('Share of the last day in the expected band', share, inBandPct, '%');
    const clear = (): boolean => share !== null && share >= easierPct;
    // What a nest in its band follows is dear to work out, and no matter.
    if (outOfBand.met === false) return { verdict: 'no', clear: clear(), conditions: [outOfBand] };
    if (levelC.ok && bandC && levelC.value > bandC.high)
      return notApplicable('it is warmer than its band, not colder');
    const { coupling } = brood.signals.brood;
    const isSick = introduction?.diseaseSignsAtMs != null;
    return decide({
      conditions: [
        outOfBand,
        atLeast('How far it follows the weather', coupling.ok ? coupling.value : null, least, ''),
      ],
      clear,
      message: () => ({
        todo: isSick
          ? say`Help it from outside: insulate, narrow the entrance. Signs of brood disease are logged: ask the bee inspector before bees or brood come in or go out.`
          : staysShut(introduction)
            ? say`Help it from outside: insulate, narrow the entrance. Brood and bees are added at the look for the queen, not before.`
            : say`At the next visit add a frame of sealed brood with its bees from a healthy colony. Or take out brood that is not covered, or unite it.`,
        seen: levelC.ok
          ? say`Brood at ${degC(levelC.value)} in the middle of the last day, ${percent(shareInBand.ok ? shareInBand.value : 0)} of it in the band${bandC ? say` of ${degC(bandC.low)} to ${degC(bandC.high)}` : ''}.`
          : say`Most of the last day was outside the expected band.`,
        why: brood.why,
        howSure: say`It agrees with too few bees; a probe at the edge of the brood looks the same. No frame of brood comes from a colony with signs of disease.`,
        settleBy: staysShut(introduction)
          ? say`How much do they fly, beside the other nucs?`
          : say`Count the frames that bees cover early in the morning.`,
        facts: coupling.ok ? [{ name: 'Follows the weather by', ...percent(coupling.value) }] : [],
      }),
      evidence: { place: 'brood', fromMs: nowMs - 48 * 3_600_000, toMs: nowMs },
    });
  },
});
