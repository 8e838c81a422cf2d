/** Everything at a site went silent together: a gateway, its power or its network, not thirty sensors. */
import { atLeast, holds } from '../../engine/conditions.ts';
import type { ChannelHealth } from '../../engine/inputs.ts';
import { clock, minutes, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData } from '../../engine/rule.ts';
import { isSteady, lateIntervals, steadyMin } from './steadily-back.ts';

interface Beat {
  readonly heardMs: number;
  readonly everyMs: number;
}

/** One a sensor: its channels come in one message. */
function beatsOf(channels: readonly ChannelHealth[], slowestMin: number): Beat[] {
  const bySensor = new Map<string, Beat>();
  for (const { sensor, place, lastHeardMs, expectedIntervalMs } of channels) {
    if (place === null || lastHeardMs === null || expectedIntervalMs === null) continue;
    if (expectedIntervalMs > slowestMin * 60_000) continue;
    const known = bySensor.get(sensor);
    bySensor.set(sensor, {
      heardMs: Math.max(known?.heardMs ?? 0, lastHeardMs),
      everyMs: Math.min(known?.everyMs ?? Infinity, expectedIntervalMs),
    });
  }
  return [...bySensor.values()];
}

/** Method: last heard so many of its own intervals before the last of all, a sensor did not fall silent with them. */
const togetherIntervals = 2.5;

export const everythingSilent = defineRule({
  id: 'everything-silent',
  on: 'site',
  title: 'Everything silent',
  about: 'No sensor of a site has been heard for longer than their rhythms allow together.',
  urgency: 'today',
  holdMin: 10,
  clearHoldMin: steadyMin,
  limits: {
    sensors: limit(2, [2, 50], '', 'Sensors that must have missed their turn'),
    missed: limit(4, [2, 100], '', 'Messages that were due since the last one heard'),
    slowestMin: limit(60, [5, 1440], 'min', 'Sensors slower than this are not waited for'),
  },
  sources: ['common practice'],
  evaluate({ sensors, subject, nowMs }, { sensors: least, missed: leastMissed, slowestMin }) {
    const beats = beatsOf(sensors, slowestMin);
    if (beats.length < least) return noData('too few sensors whose rhythm is known');
    const lastMs = Math.max(...beats.map(({ heardMs }) => heardMs));
    const late = beats.filter(({ heardMs, everyMs }) => nowMs - heardMs > lateIntervals * everyMs);
    const together = beats.filter(({ heardMs, everyMs }) => lastMs - heardMs <= togetherIntervals * everyMs);
    const missed = together.reduce((sum, { everyMs }) => sum + Math.floor((nowMs - lastMs) / everyMs), 0);
    return decide({
      conditions: [
        holds(
          'Every sensor has missed its turn',
          late.length === beats.length,
          `${String(late.length)} of ${String(beats.length)}`,
          'all',
        ),
        atLeast('Sensors that fell silent together', together.length, least, ''),
        atLeast('Messages due since the last one', missed, leastMissed, ''),
      ],
      clear: () => beats.some(({ heardMs, everyMs }) => isSteady(nowMs - heardMs, everyMs)),
      message: () => ({
        todo: say`Look at the gateway, its power and its network at ${subject.name}; then at this server’s own connection.`,
        seen: say`Nothing from any of ${plain(together.length)} sensors since ${clock(lastMs)}; ${plain(missed)} messages were due since then.`,
        why: say`Nothing at this site can warn you until it is back.`,
        howSure: say`Sensors do not fail together: it is what they share.`,
        facts: [{ name: 'Silent for', ...minutes((nowMs - lastMs) / 60_000) }],
      }),
    });
  },
});
