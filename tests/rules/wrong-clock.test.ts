/** A sensor that sends local time for UTC is hours ahead in Asia and Europe, and hours behind in America: common practice. */
import { describe, expect, it } from 'vitest';
import { sensorClockBehind } from '../../server/rules/catalogue/sensors/sensor-clock-behind.ts';
import { sensorImplausible } from '../../server/rules/catalogue/sensors/sensor-implausible.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { ChannelHealth } from '../../server/rules/engine/inputs.ts';
import { inWords } from '../../server/words/phrase.ts';
import { channelInput, channelSubject, day, deviceOf, hour, noon } from './made-up.ts';

const words = { timeZone: 'UTC', temperature: 'C', weight: 'kg' } as const;
const limits = limitsFor(sensorImplausible, channelSubject, noLimitSettings);

describe('readings with a time that cannot be', () => {
  const told = (suspects24h: number, wrongClocks24h: number) => {
    const found = sensorImplausible.evaluate(
      channelInput({ readings24h: 144, suspects24h, wrongClocks24h }),
      limits,
    );
    if (!found.message) throw new Error(found.verdict);
    const { todo, seen } = found.message;
    return { urgency: found.urgency, todo: inWords(todo, words), seen: inWords(seen, words) };
  };
  it('send the keeper to the clock, today where nothing else is left', () => {
    const { urgency, todo, seen } = told(144, 144);
    expect(urgency).toBe('today');
    expect(todo).toContain('clock');
    expect(todo).not.toContain('plug');
    expect(seen).toMatch(/^144 of the last day’s 144 readings carry a time/);
    expect(told(14, 14).urgency).toBeUndefined();
  });
  it('are no matter of the plug, and a wet plug is none of the clock', () => {
    expect(told(144, 20).todo).toContain('plug');
    expect(told(144, 20).urgency).toBeUndefined();
  });
});

describe('a device whose messages are old', () => {
  const behind = { sinceMs: noon - 4 * hour, tellsOfMs: noon - day };
  const evaluate = (...others: readonly Partial<ChannelHealth>[]) =>
    sensorClockBehind.evaluate(
      deviceOf(channelInput({ behind }), ...others.map((one) => channelInput(one))),
      {},
    );
  it('is told with what it says and when it said it', () => {
    const found = evaluate({ behind });
    if (!found.message) throw new Error(found.verdict);
    expect(inWords(found.message.seen, words)).toBe(
      'What came at Wed 6 May 10:00 tells of Tue 5 May 10:00, 24 hours before.',
    );
  });
  it('is not, where one of its channels tells of the present', () => {
    expect(evaluate({}).verdict).toBe('no');
  });
});
