/** A chill that was told ahead and then comes is never told as over: the alert about chilling goes on from it. */
import { expect, it } from 'vitest';
import { createNotifications } from '../../server/notify/notifications.ts';
import { createOutbox } from '../../server/notify/outbox.ts';
import { wordsOf } from '../../server/notify/words.ts';
import { broodChilling } from '../../server/rules/catalogue/temperature/brood-chilling.ts';
import { chillingAhead } from '../../server/rules/catalogue/temperature/chilling-ahead.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { dose, estimate, hour, minute, noon, nucInput, signals } from '../rules/made-up.ts';
import { recipient } from './made-up.ts';
import { memoryStore } from './memory-store.ts';

const rules = [broodChilling, chillingAhead];
const titleOf = (id: string): string => rules.find((rule) => rule.id === id)?.title ?? id;
const display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' } as const;
const dusk = noon + 12 * hour;

/** Falls to its limit for an hour, lies a degree and a half under it until dawn, and is warm again after that. */
function nestAt(nowMs: number) {
  const underH = (nowMs - dusk) / hour - 1;
  if (underH < 0) {
    const outlook = { ...signals().outlook, chanceBelow: 0.7, minutesToLimit: estimate(-60 * underH + 1) };
    return signals({ outlook, brood: { ...signals().brood, latestC: 32 - underH } });
  }
  const latestC = underH < 8 ? 30.5 : 34.5;
  const cold = dose('sealed-brood', 'cold', 32, latestC, {
    sinceMs: dusk + hour,
    degreeHours: 1.5 * Math.min(8, underH),
  });
  return signals({ doses: [cold], brood: { ...signals().brood, latestC } });
}

async function messagesOverNight(untilMs: number): Promise<string[]> {
  const quietHours = { from: '22:00', to: '06:00', timeZone: 'Europe/Berlin' };
  const to = recipient({ quietHours });
  const store = memoryStore();
  const sent: string[] = [];
  let [nowMs, alerts] = [dusk, new Map() as Alerts];
  const send = (delivery: Parameters<typeof wordsOf>[0]) => {
    sent.push(wordsOf(delivery, display).heading.replace(/, Nuc 1/, ''));
    return Promise.resolve({ ok: true, detail: 'sent' } as const);
  };
  const notifications = createNotifications({
    store,
    recipients: () => [to],
    titleOf,
    timeZoneOf: () => 'Europe/Berlin',
    digestDue: () => false,
  });
  const senders = { mail: send, webhook: send, mqtt: send, browser: send, push: send };
  const outbox = createOutbox({ store, senders, recipients: () => [to], clock: () => nowMs });
  for (; nowMs < untilMs; nowMs += 5 * minute) {
    const evaluated = evaluateAll([nucInput({ nowMs, signals: nestAt(nowMs) })], alerts, nowMs, { rules });
    alerts = evaluated.alerts;
    notifications.onEffects(evaluated.effects, nowMs);
    await outbox.pump();
  }
  return sent;
}

it('is told as close, then as chilling for now, and as over once the nest has been warm for a day', async () => {
  const warnedAndCold = [`Now: ${chillingAhead.title}`, `Now: ${broodChilling.title}`];
  expect(await messagesOverNight(dusk + 9 * hour)).toEqual(warnedAndCold);
  expect(await messagesOverNight(dusk + 40 * hour)).toEqual([
    ...warnedAndCold,
    `Over: ${broodChilling.title}`,
  ]);
});
