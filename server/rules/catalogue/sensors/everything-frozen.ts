/** All sensors of a site report, and none has moved by a digit for hours: what passes them on repeats old readings. */
import { atLeast } from '../../engine/conditions.ts';
import type { ChannelHealth } from '../../engine/inputs.ts';
import { clock, hours, plain, say } from '../../../words/phrase.ts';
import { fineStepG } from './sensor-stuck.ts';
import { decide, defineRule, limit, noData } from '../../engine/rule.ts';

interface Still {
  /** It would have moved: a coarse scale may rest for a night. */
  readonly tells: boolean;
  readonly sinceMs: number;
  readonly heardMs: number;
}

/** Method: a sensor that has not been heard for so many of its intervals is silent, and says nothing of this. */
const silentIntervals = 4;

/** Scales and probes that are heard: since when each has sent the same value. */
const heardOf = (sensors: readonly ChannelHealth[], nowMs: number): Still[] =>
  sensors.flatMap(({ place, quantity, unchangedSinceMs, lastHeardMs, expectedIntervalMs, stepG = 0 }) =>
    place !== null &&
    (quantity === 'weight' || quantity === 'temperature') &&
    unchangedSinceMs !== null &&
    lastHeardMs !== null &&
    expectedIntervalMs !== null &&
    nowMs - lastHeardMs <= silentIntervals * expectedIntervalMs
      ? [{ sinceMs: unchangedSinceMs, heardMs: lastHeardMs, tells: stepG <= fineStepG }]
      : [],
  );

export const everythingFrozen = defineRule({
  id: 'everything-frozen',
  on: 'site',
  title: 'Everything frozen',
  about: 'Every scale and probe of a site sends the very same value for hours: old readings are repeated.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 5,
  limits: {
    sensors: limit(3, [2, 50], '', 'Scales and probes that it takes'),
    sameH: limit(6, [2, 72], 'h', 'Hours without a change of any of them'),
  },
  sources: ['common practice'],
  evaluate({ sensors, subject, nowMs }, { sensors: least, sameH }) {
    const heard = heardOf(sensors, nowMs);
    if (heard.filter(({ tells }) => tells).length < least)
      return noData('too few scales and probes are heard');
    const sinceMs = Math.max(...heard.map((one) => one.sinceMs));
    const untilMs = Math.min(...heard.map(({ heardMs }) => heardMs));
    const same = (untilMs - sinceMs) / 3_600_000;
    return decide({
      conditions: [atLeast('None of them has changed for', same, sameH, 'h')],
      clear: () => same < sameH,
      message: () => ({
        todo: say`Restart the gateway at ${subject.name}, or whatever passes the readings on: it repeats old ones.`,
        seen: say`All ${plain(heard.length)} scales and probes have sent the very same values since ${clock(sinceMs)}.`,
        why: say`Nothing at this site can warn you until it measures again.`,
        howSure: say`One of them may rest for hours; the air, the nests and the scales do not rest together.`,
        facts: [{ name: 'The same for', ...hours(same) }],
      }),
    });
  },
});
