/** A large part of the bees left together: a swarm, or the whole colony. */
import { departureSureShare, massDepartureG } from '../../../biology/figures.ts';
import { atLeast, holds } from '../../engine/conditions.ts';
import { isSure } from '../../../signals/weight/mass-departure.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { clock, grams, percent, say, type Phrase } from '../../../words/phrase.ts';
import type { MassDeparture } from '../../../signals/types.ts';
import { decide, defineRule, limit, noData, nothingFound, notApplicable } from '../../engine/rule.ts';

export const leftInAMass = defineRule({
  id: 'left-in-a-mass',
  on: 'nuc',
  title: 'Bees left in a mass',
  about:
    'A fast fall of weight by daylight without the shape of a step. Then the brood cooled, or nobody came home at dusk, or it was more than ever fly at once: a swarm, or the colony absconding.',
  urgency: 'now',
  holdMin: 0,
  clearHoldMin: 0,
  limits: {
    lossG: limit(massDepartureG.value, [100, 5000], 'g', 'Weight of bees that must have left'),
    lookBackH: limit(18, [1, 72], 'h', 'How long such an event stands: a June day and its dusk'),
  },
  sources: ['Rangel & Seeley 2012 (three quarters of the workers go); 8,800 bees a kilogram: Oliver 2016'],
  evaluate({ introduction, signals, nowMs }, { lossG, lookBackH }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    if (!signals) return noData('no scale stands under this nuc');
    const recent = signals.massDepartures.findLast(
      ({ toMs }) => toMs <= nowMs && nowMs - toMs <= lookBackH * 3_600_000,
    );
    if (!recent) return nothingFound(atLeast('Weight of bees that left', 0, lossG, 'g'));
    const sure = isSure(recent, nowMs);
    return decide({
      urgency: recent.temperatureFollowed === true || recent.moreThanFly ? 'now' : 'today',
      conditions: [
        atLeast('Weight of bees that left', recent.lossG, lossG, 'g'),
        holds(
          'The brood cooled after it, more than ever fly at once are away for an hour, or dusk came and they are not home',
          sure,
          sure ? 'yes' : 'not yet',
          'yes',
        ),
      ],
      // A window that is read anew may begin too late for the brood to have been read after it.
      clear: () => recent.temperatureFollowed !== null,
      message: () => ({
        todo: say`Look for a cluster nearby, up to a few hundred metres, and then into the nuc from above: is anybody left on the brood?`,
        seen: say`Between ${clock(recent.fromMs)} and ${clock(recent.toMs)} it lost ${grams(recent.lossG)}.`,
        why: say`A nuc that absconds takes the queen along, or leaves her behind in the cage without bees to feed and warm her.`,
        howSure: howSure(recent),
        settleBy: say`A look from above.`,
        facts: [{ name: 'Lost', ...grams(recent.lossG) }],
      }),
      evidence: { place: 'scale', fromMs: recent.fromMs - 6 * 3_600_000, toMs: nowMs },
    });
  },
});

function howSure({ temperatureFollowed, likeAHand, moreThanFly }: MassDeparture): Phrase {
  if (temperatureFollowed === true)
    return likeAHand
      ? say`The scale would show the same if somebody took something out. But the brood has cooled and stayed cool, as when the bees have gone.`
      : say`The brood temperature fell afterwards, as it does when bees have gone.`;
  if (moreThanFly)
    return say`They are ${percent(departureSureShare.value)} or more of all bees that there can be: so many are never out at once.`;
  return temperatureFollowed === false
    ? say`They are not home at dusk. The brood has stayed warm since: some bees are still there.`
    : say`Only the scale says so, and they are not home at dusk; there is no brood temperature to agree with it.`;
}
