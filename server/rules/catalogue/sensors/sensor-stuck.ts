/** A sensor goes on reporting, and always the very same value. */
import { atLeast } from '../../engine/conditions.ts';
import { stuckHours } from '../../../signals/brood/brood-temperature.ts';
import { clock, hours, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

/** Setting: humidity sensors end at 100 %, some a little before it. Common practice. */
const saturatedPct = 99;
/** Method: fewer readings of a day tell no sameness. */
const leastReadings = 6;

/** Method: a scale with steps of so much moves within hours, g; one with steps of 100 g was seen to rest for four days. */
export const fineStepG = 20;

export const sensorStuck = defineRule({
  id: 'sensor-stuck',
  on: 'channel',
  title: 'Sensor stuck',
  about: 'A sensor reports the very same value for so long that it can’t be measuring.',
  urgency: 'next-visit',
  holdMin: 0,
  clearHoldMin: 30,
  limits: {
    temperatureH: limit(stuckHours, [2, 240], 'h', 'Hours without a change, temperature and humidity'),
    weightH: limit(
      24,
      [2, 240],
      'h',
      'Hours without a change, a scale that tells 20 g; longer for coarser ones',
    ),
  },
  sources: ['common practice'],
  evaluate({ channel, nowMs }, { temperatureH, weightH }) {
    const { quantity, unchangedSinceMs, lastHeardMs, channelId, readings24h, stepG = 0 } = channel;
    if (channel.place === null) return notApplicable('this sensor stands nowhere');
    if (quantity === 'battery' || quantity === 'rain')
      return notApplicable('this quantity may well stay the same');
    if (quantity === 'humidity' && channel.lastValue !== null && channel.lastValue >= saturatedPct)
      return notApplicable('the air is saturated, and may stay so for days of wet weather');
    if (unchangedSinceMs === null || lastHeardMs === null || readings24h < leastReadings)
      return noData('too few readings in the last day');
    // Judged up to the last message: a silent sensor is not a stuck one.
    const unchangedH = (lastHeardMs - unchangedSinceMs) / 3_600_000;
    const restsH = quantity === 'weight' ? weightH * Math.max(1, stepG / fineStepG) : temperatureH;
    return decide({
      conditions: [atLeast('The same value for', unchangedH, restsH, 'h')],
      clear: () => true,
      message: () => ({
        todo: say`Restart the sensor or check its cable at the next visit.`,
        seen: say`The same value, to the last digit, since ${clock(unchangedSinceMs)}.`,
        why: say`A stuck sensor looks calm while anything may happen.`,
        howSure: say`Real readings move by at least a digit in that time.`,
        facts: [{ name: 'Unchanged for', ...hours(unchangedH) }],
      }),
      evidence: { channelId, fromMs: unchangedSinceMs - 86_400_000, toMs: nowMs },
    });
  },
});
