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
    ['raised', {}, 'now', night, true, night + 10_000, 'raised'],
    ['raised', { quietHours }, 'now', night, true, night + 10_000, 'raised'],
    ['raised', { quietHours }, 'today', night, true, morning, 'quiet hours'],
    ['raised', { quietHours }, 'today', noon, true, noon + 5 * min, 'raised'],
    ['raised', { enabled: false }, 'now', noon, false, 0, 'switched off'],
    ['raised', {}, 'next-visit', noon, false, 0, 'there is no digest'],
    ['raised', { digestAt: '07:00' }, 'next-visit', noon, false, 0, 'waits for the digest'],
    ['worsened', {}, 'now', noon, true, noon + 10_000, 'more pressing'],
    ['re-opened', {}, 'now', noon, true, noon + 10_000, 'opened again'],
    ['put-off-over', {}, 'now', noon, true, noon + 10_000, 'put off is over'],
    ['still-so', {}, 'now', noon, true, noon + 10_000, 'still so'],
  ] as const)('%s to %o, %s at %d', (kind, over, urgency, nowMs, send, notBeforeMs, reason) => {
    const decision = decideOnEffect(recipient(over), kind, effect(kind, { urgency }).episode, [], nowMs);
    expect(decision.send).toBe(send);
    expect(decision.reason).toContain(reason);
    if (decision.send) expect(decision.notBeforeMs).toBe(notBeforeMs);
  });

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
    ['half an hour after', {}, {}, [delivery()], 30 * min, true, 'reminder 1 of 3'],
    ['one tick before', {}, {}, [delivery()], 30 * min - 1, false, 'not long ago'],
    ['seen', {}, { seen }, [delivery()], hour, false, 'seen by Ann'],
    ['put off', {}, { putOffUntilMs: noon + 5 * hour }, [delivery()], hour, false, 'put off'],
    ['never sent', {}, {}, [], hour, false, 'never sent'],
    ['on its way', {}, {}, [delivery({ state: 'waiting' })], hour, false, 'on its way'],
    ['third', {}, {}, [delivery(), reminder, reminder], hour, true, 'reminder 3 of 3'],
    ['limit', {}, {}, [delivery(), reminder, reminder, reminder], hour, false, 'the limit'],
    ['switched off', { enabled: false }, {}, [delivery()], hour, false, 'switched off'],
    ['next visit', {}, { urgency: 'next-visit' as const }, [delivery()], hour, false, 'the limit'],
  ] as const)('%s', (_name, over, change, earlier, afterMs, send, reason) => {
    const decision = decideOnReminder(recipient(over), { ...episode, ...change }, earlier, noon + afterMs);
    expect(decision.send).toBe(send);
    expect(decision.reason).toContain(reason);
  });
});
