/** A sensor has not been heard for longer than its own rhythm allows. */
import { atLeast } from './conditions.ts';
import { clock, minutes, say } from './phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from './rule.ts';

export const sensorSilent = defineRule({
  id: 'sensor-silent',
  on: 'channel',
  title: 'Sensor silent',
  about: 'A sensor that stands somewhere has not been heard for several of its own intervals.',
  urgency: 'today',
  holdMin: 15,
  clearHoldMin: 0,
  limits: {
    intervals: limit(8, [2, 100], '', 'How many of its usual intervals it may miss'),
    atLeastMin: limit(180, [5, 10_080], 'min', 'And never less than this'),
  },
  sources: [
    'gaps of the open Montreal series of 2021: radio sensors are away for one to three hours time and again',
  ],
  evaluate({ channel, subject, nowMs }, { intervals, atLeastMin }) {
    if (channel.place === null) return notApplicable('this sensor stands nowhere');
    if (channel.lastHeardMs === null) return noData('it was never heard');
    if (channel.expectedIntervalMs === null) return noData('its rhythm is not known yet');
    const everyMin = channel.expectedIntervalMs / 60_000;
    const allowedMin = Math.max(atLeastMin, intervals * everyMin);
    const silentMin = (nowMs - channel.lastHeardMs) / 60_000;
    const { lastHeardMs, channelId } = channel;
    return decide({
      conditions: [atLeast('Not heard for', silentMin, allowedMin, 'min')],
      clear: () => true,
      message: () => ({
        todo: say`Look at its battery and its place at the next chance: ${subject.name}.`,
        seen: say`Last heard ${clock(lastHeardMs)}; it usually reports every ${minutes(everyMin)}.`,
        why: say`Until it is back, nothing that rests on it can warn you.`,
        howSure: say`Certain that nothing arrived; whether the sensor, its radio or its battery is the reason can’t be told from here.`,
        facts: [
          { name: 'Silent for', ...minutes(silentMin) },
          { name: 'Allowed', ...minutes(allowedMin) },
        ],
      }),
      evidence: { channelId, fromMs: lastHeardMs - 86_400_000, toMs: nowMs },
    });
  },
});
