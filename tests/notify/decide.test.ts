/** Do we send? Every decision comes with its reason. */
import { describe, expect, it } from 'vitest';
import { decideOnEffect, decideOnReminder, isNews } from '../../server/notify/decide.ts';
import { effectKinds } from '../../server/rules/engine/alert-state.ts';
import { delivery, effect, hour, min, noon, recipient } from './made-up.ts';

const quietHours = { from: '22:00', to: '06:30', timeZone: 'Europe/Berlin' };
/** 03:00 in Berlin, in the quiet hours. */
const night = Date.UTC(2026, 4, 6, 1);
const morning = Date.UTC(2026, 4, 6, 4, 30);

describe('news', () => {
  it.each([
    {
      kind: 'raised',
      over: {},
      urgency: 'now',
      nowMs: night,
      send: true,
      notBeforeMs: night + 10_000,
      reason: 'raised',
    },
    {
      kind: 'raised',
      over: { quietHours },
      urgency: 'now',
      nowMs: night,
      send: true,
      notBeforeMs: night + 10_000,
      reason: 'raised',
    },
    {
      kind: 'raised',
      over: { quietHours },
      urgency: 'today',
      nowMs: night,
      send: true,
      notBeforeMs: morning,
      reason: 'quiet hours',
    },
    {
      kind: 'raised',
      over: { quietHours },
      urgency: 'today',
      nowMs: noon,
      send: true,
      notBeforeMs: noon + 5 * min,
      reason: 'raised',
    },
    {
      kind: 'raised',
      over: { enabled: false },
      urgency: 'now',
      nowMs: noon,
      send: false,
      notBeforeMs: 0,
      reason: 'switched off',
    },
    {
      kind: 'raised',
      over: {},
      urgency: 'next-visit',
      nowMs: noon,
      send: false,
      notBeforeMs: 0,
      reason: 'there is no digest',
    },
    {
      kind: 'raised',
      over: { digestAt: '07:00' },
      urgency: 'next-visit',
      nowMs: noon,
      send: false,
      notBeforeMs: 0,
      reason: 'waits for the digest',
    },
    {
      kind: 'worsened',
      over: {},
      urgency: 'now',
      nowMs: noon,
      send: true,
      notBeforeMs: noon + 10_000,
      reason: 'more pressing',
    },
    {
      kind: 're-opened',
      over: {},
      urgency: 'now',
      nowMs: noon,
      send: true,
      notBeforeMs: noon + 10_000,
      reason: 'opened again',
    },
    {
      kind: 'put-off-over',
      over: {},
      urgency: 'now',
      nowMs: noon,
      send: true,
      notBeforeMs: noon + 10_000,
      reason: 'put off is over',
    },
    {
      kind: 'still-so',
      over: {},
      urgency: 'now',
      nowMs: noon,
      send: true,
      notBeforeMs: noon + 10_000,
      reason: 'still so',
    },
  ] as const)(
    '$kind to $over, $urgency at $nowMs',
    ({ kind, over, urgency, nowMs, send, notBeforeMs, reason }) => {
      const decision = decideOnEffect(recipient(over), kind, effect(kind, { urgency }).episode, [], nowMs);
      expect(decision.send).toBe(send);
      expect(decision.reason).toContain(reason);
      if (decision.send) expect(decision.notBeforeMs).toBe(notBeforeMs);
    },
  );

  it('knows which effects are news', () => {
    expect(effectKinds.filter((kind) => !isNews(kind))).toEqual(['seen', 'put-off']);
  });
});

describe('the all-clear', () => {
  const { episode } = effect('cleared');
  const decide = (told: Parameters<typeof decideOnEffect>[3], over = {}, nowMs = noon) =>
    decideOnEffect(recipient(over), 'cleared', episode, told, nowMs);

  it('goes to those who were told', () => {
    expect(decide([delivery()])).toMatchObject({ send: true, kind: 'all-clear' });
  });

  it('goes to those who were notified even when the channel no longer takes that urgency', () => {
    expect(decide([delivery()], { urgencies: [] })).toMatchObject({ send: true });
  });

  it('does not go to those who were not, and withdraws what still waits', () => {
    const waiting = delivery({ state: 'waiting', attempts: 0, sentAtMs: null });
    expect(decide([waiting])).toEqual({ send: false, reason: 'it was never sent here', withdraw: [waiting] });
    expect(decide([])).toMatchObject({ send: false, withdraw: [] });
  });

  it('follows a message that was tried, because it may have arrived', () => {
    expect(decide([delivery({ state: 'waiting', attempts: 1, sentAtMs: null })])).toMatchObject({
      send: true,
    });
  });

  it('is left to the next digest where only a digest told it', () => {
    const decision = decide([delivery({ kind: 'digest' })]);
    expect(decision).toMatchObject({ send: false });
    expect(decision.reason).toContain('next digest');
  });

  it('of what could wait also waits for the end of the quiet hours', () => {
    const today = effect('cleared', { urgency: 'today' }).episode;
    const decision = decideOnEffect(recipient({ quietHours }), 'cleared', today, [delivery()], night);
    expect(decision).toMatchObject({ send: true, notBeforeMs: morning });
  });
});

describe('reminders', () => {
  const { episode } = effect('raised');
  const seen = { by: 'Ann', atMs: noon };
  const reminder = delivery({ kind: 'reminder' });
  it.each([
    {
      name: 'half an hour after',
      over: {},
      change: {},
      told: [delivery()],
      afterMs: 30 * min,
      send: true,
      reason: 'reminder 1 of 3',
    },
    {
      name: 'one tick before',
      over: {},
      change: {},
      told: [delivery()],
      afterMs: 30 * min - 1,
      send: false,
      reason: 'not long ago',
    },
    {
      name: 'seen',
      over: {},
      change: { seen },
      told: [delivery()],
      afterMs: hour,
      send: false,
      reason: 'seen by Ann',
    },
    {
      name: 'put off',
      over: {},
      change: { putOffUntilMs: noon + 5 * hour },
      told: [delivery()],
      afterMs: hour,
      send: false,
      reason: 'put off',
    },
    { name: 'never told', over: {}, change: {}, told: [], afterMs: hour, send: false, reason: 'never sent' },
    {
      name: 'on its way',
      over: {},
      change: {},
      told: [delivery({ state: 'waiting' })],
      afterMs: hour,
      send: false,
      reason: 'on its way',
    },
    {
      name: 'third',
      over: {},
      change: {},
      told: [delivery(), reminder, reminder],
      afterMs: hour,
      send: true,
      reason: 'reminder 3 of 3',
    },
    {
      name: 'limit',
      over: {},
      change: {},
      told: [delivery(), reminder, reminder, reminder],
      afterMs: hour,
      send: false,
      reason: 'the limit',
    },
    {
      name: 'the limit before it was put off',
      over: {},
      change: {},
      told: [delivery(), reminder, reminder, reminder, delivery()],
      afterMs: hour,
      send: true,
      reason: 'reminder 1 of 3',
    },
    {
      name: 'switched off',
      over: { enabled: false },
      change: {},
      told: [delivery()],
      afterMs: hour,
      send: false,
      reason: 'switched off',
    },
    {
      name: 'next visit',
      over: {},
      change: { urgency: 'next-visit' as const },
      told: [delivery()],
      afterMs: hour,
      send: false,
      reason: 'the limit',
    },
  ] as const)('$name', ({ over, change, told, afterMs, send, reason }) => {
    const decision = decideOnReminder(recipient(over), { ...episode, ...change }, told, noon + afterMs);
    expect(decision.send).toBe(send);
    expect(decision.reason).toContain(reason);
  });
});
