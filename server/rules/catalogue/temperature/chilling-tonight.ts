/** The night ahead will probably chill the brood; there is still daylight to do something about it. */
import { atLeast } from '../../engine/conditions.ts';
import { broodInReach } from './brood-at-stake.ts';
import { foreseenHasCome, helpItKeepWarm } from './foreseen-has-come.ts';
import { staysShut } from '../introduction-stage.ts';
import { beside, degC, percent, say, within, type Phrase } from '../../../words/phrase.ts';
import type { AlertMessage } from '../../engine/types.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';
import type { ChillOutlook } from '../../../signals/types.ts';

const basisWords: Readonly<Record<'own-record' | 'heat-budget', Phrase>> = {
  'own-record': say`from this nuc’s own earlier nights`,
  'heat-budget': say`from the bees it has and what a box loses, as it has too few nights of its own`,
};
const forecastWords = {
  told: say`with the forecast`,
  persistence: say`as if the night were like the last, for want of a forecast`,
  none: say`without knowing the weather`,
};

const goesOnWords = say` Lately this nest has gone on falling each time it fell.`;

/** Setting: chances at which it is told, and over, in per cent. */
const chances = { told: 80, goesOn: 30, over: 35 };
/** Setting: so near to its limit a nest whose falls go on is told of from the lower chance, K. */
const nearK = 1.5;

export const chillingTonight = defineRule({
  id: 'chilling-tonight',
  on: 'nuc',
  title: 'Brood may chill tonight',
  about:
    'The lowest brood temperature expected in the night ahead lies under what the brood stands. Once it is dark it can’t wait until the morning.',
  urgency: 'today',
  holdMin: 30,
  clearHoldMin: 240,
  // One night is one alert: a nest next to the limit passes it both ways.
  quietMin: 1080,
  limits: {
    chancePct: limit(chances.told, [5, 99], '%', 'Chance of a chill at which the alert comes'),
    goesOnPct: limit(
      chances.goesOn,
      [5, 99],
      '%',
      'The same for a nest whose falls go on, once it has come near its limit',
    ),
    nearK: limit(nearK, [0, 5], 'K', 'So near to its limit it has come'),
    easierPct: limit(chances.over, [1, 95], '%', 'Chance under which it clears'),
  },
  sources: ['own record of the nuc, else a heat budget; figures in the temperature table'],
  evaluate({ introduction, signals, nowMs }, { chancePct, goesOnPct, nearK: near, easierPct }) {
    const brood = broodInReach(introduction, signals);
    if (!brood.ok) return notApplicable(brood.why);
    const { outlook } = brood.signals;
    const { chanceBelow, limitC, basis, forecast, nightBeginsMs, nightEndsMs, falls } = outlook;
    const { latestC } = brood.signals.brood;
    if (latestC !== null && latestC < limitC) return foreseenHasCome(brood, staysShut(introduction), nowMs);
    if (basis === 'none' || chanceBelow === null) {
      const { tonightMinC } = outlook;
      return noData(tonightMinC.ok ? 'no chance was worked out' : tonightMinC.why);
    }
    const chance = chanceBelow * 100;
    const givesWay = falls === 'go-on' && latestC !== null && latestC <= limitC + near;
    const isNight = nowMs >= nightBeginsMs;
    return decide({
      urgency: isNight ? 'now' : 'today',
      conditions: [atLeast('Chance of a chill tonight', chance, givesWay ? goesOnPct : chancePct, '%')],
      clear: () => chance < easierPct,
      message: () => ({
        ...(isNight ? helpItKeepWarm(staysShut(introduction)) : beforeTheEvening(staysShut(introduction))),
        untilMs: nightEndsMs,
        seen: lowestExpected(outlook),
        why: brood.why,
        howSure: say`${percent(chanceBelow)} likely, ${basisWords[basis]}, ${forecastWords[forecast]}.${givesWay ? goesOnWords : ''}`,
        facts: [
          { name: 'Chance', ...percent(chanceBelow) },
          { name: 'Limit', ...degC(limitC) },
        ],
      }),
      evidence: { place: 'brood', fromMs: nowMs - 36 * 3_600_000, toMs: nowMs, limit: limitC },
    });
  },
});

const beforeTheEvening = (isShut: boolean): Pick<AlertMessage, 'todo' | 'settleBy'> => ({
  todo: say`Before the evening: insulate it, narrow its entrance, or put it on top of a strong colony or in a sheltered place for the night.`,
  settleBy: isShut
    ? say`Is the box warm under the lid this evening? Keep it shut: the queen has just been let out.`
    : say`Do bees cover the brood from edge to edge this evening?`,
});

const lowestExpected = ({ tonightMinC: min, limitC }: ChillOutlook) =>
  min.ok
    ? say`The brood is expected to fall to ${beside(within(degC(min.value), min), limitC)} (${within(degC(min.low), min)} to ${within(degC(min.high), min)}); it should stay over ${degC(limitC)}.`
    : say`The brood is expected to fall under ${degC(limitC)}.`;
