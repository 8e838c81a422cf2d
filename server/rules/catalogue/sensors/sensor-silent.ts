/** A device, or one of its channels, has not been heard for longer than its own rhythm allows. */
import { minuteMs } from '../../../durations.ts';
import { atLeast } from '../../engine/conditions.ts';
import type { DeviceInput } from '../../engine/inputs.ts';
import { clock, minutes, say, type Phrase } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable, type LimitValues } from '../../engine/rule.ts';
import { isSteady, steadyMin } from './steadily-back.ts';

/** One channel against its own rhythm, minutes. */
interface Rhythm {
  readonly name: string;
  readonly channelId: number;
  readonly lastHeardMs: number;
  readonly everyMin: number;
  readonly allowedMin: number;
  readonly silentMin: number;
}

/** How long a channel may be silent under the limits of this rule, ms. */
export const allowedSilenceMs = (everyMs: number, { intervals = 0, atLeastMin = 0 }: LimitValues): number =>
  Math.round(Math.max(atLeastMin * minuteMs, intervals * everyMs));

function rhythmsOf({ channels, nowMs }: DeviceInput, limits: LimitValues): readonly Rhythm[] {
  return channels.flatMap(({ name, health: { channelId, place, lastHeardMs, expectedIntervalMs } }) => {
    if (place === null || lastHeardMs === null || expectedIntervalMs === null) return [];
    const everyMin = expectedIntervalMs / minuteMs;
    const allowedMin = allowedSilenceMs(expectedIntervalMs, limits) / minuteMs;
    const silentMin = (nowMs - lastHeardMs) / minuteMs;
    return [{ name, channelId, lastHeardMs, everyMin, allowedMin, silentMin }];
  });
}

const listed = (names: readonly string[]): string =>
  names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1] as string}`;

function whatToDo(silent: readonly Rhythm[], all: number, device: string): Phrase {
  if (silent.length === all) return say`Look at its battery and its place at the next chance: ${device}.`;
  return say`The device reports, and part of it does not: look at the plug and cable of ${listed(silent.map(({ name }) => name))}.`;
}

export const sensorSilent = defineRule({
  id: 'sensor-silent',
  on: 'device',
  title: 'Sensor silent',
  about: 'A sensor that stands somewhere has not been heard for several of its own intervals.',
  urgency: 'today',
  holdMin: 15,
  clearHoldMin: steadyMin,
  limits: {
    intervals: limit(8, [2, 100], '', 'How many of its usual intervals it may miss'),
    atLeastMin: limit(180, [5, 10_080], 'min', 'And never less than this'),
  },
  sources: [
    'gaps of the open Montreal series of 2021: radio sensors are away for one to three hours time and again',
  ],
  evaluate(input, limits) {
    const standing = input.channels.filter(({ health }) => health.place !== null);
    if (standing.length === 0) return notApplicable('this sensor stands nowhere');
    if (standing.every(({ health }) => health.lastHeardMs === null)) return noData('it was never heard');
    const rhythms = rhythmsOf(input, limits);
    const [worst] = rhythms.toSorted((a, b) => b.silentMin / b.allowedMin - a.silentMin / a.allowedMin);
    if (!worst) return noData('how often it sends is not known yet');
    const silent = rhythms.filter(({ silentMin, allowedMin }) => silentMin >= allowedMin);
    return decide({
      conditions: [atLeast('Not heard for', worst.silentMin, worst.allowedMin, 'min')],
      clear: () =>
        rhythms.every(({ silentMin, everyMin }) => isSteady(silentMin * minuteMs, everyMin * minuteMs)),
      message: () => ({
        todo: whatToDo(silent, rhythms.length, input.subject.name),
        seen: say`Last heard ${clock(Math.max(...silent.map(({ lastHeardMs }) => lastHeardMs)))}; it usually reports every ${minutes(worst.everyMin)}. Silent: ${listed(silent.map(({ name }) => name))}.`,
        why: say`Until it is back, nothing that rests on it can warn you.`,
        howSure: say`Certain that nothing arrived; whether the sensor, its radio or its battery is the reason can’t be told from here.`,
        facts: [
          { name: 'Silent for', ...minutes(worst.silentMin) },
          { name: 'Allowed', ...minutes(worst.allowedMin) },
        ],
      }),
      evidence: {
        channelId: worst.channelId,
        fromMs: worst.lastHeardMs - 86_400_000,
        toMs: input.nowMs,
      },
    });
  },
});
