/** The daily digest: all that stands, and what is over since the last one. */
import { episodeOf, isOpen, type AlertState, type Effect } from '../rules/engine/alert-state.ts';
import { urgencies } from '../rules/engine/types.ts';
import type { Delivery, DeliveryItem } from './delivery.ts';
import type { Recipient } from './recipient.ts';

/** Once a calendar day in `timeZone`, from `at` (HH:MM) on. */
export interface DigestRhythm {
  readonly kind: 'daily';
  readonly at: string;
  readonly timeZone: string;
}

type ItemOf = (effect: Pick<Effect, 'ruleId' | 'subject' | 'episode'>, over: boolean) => DeliveryItem;

/** The digest that is due for a recipient, or null. One that says nothing is made too, but not sent. */
export function digestFor(
  recipient: Recipient,
  alerts: readonly AlertState[],
  last: Delivery | null,
  due: (rhythm: DigestRhythm, lastMs: number, nowMs: number) => boolean,
  itemOf: ItemOf,
  nowMs: number,
): Delivery | null {
  const { digestAt: at, quietHours, display } = recipient;
  if (at === null || !recipient.enabled) return null;
  const timeZone = quietHours?.timeZone ?? display.timeZone;
  if (last === null) return made(recipient, [], 'the first digest comes at its next time', nowMs);
  if (!due({ kind: 'daily', at, timeZone }, last.createdAtMs, nowMs)) return null;
  const items = [...openItems(alerts, itemOf), ...overSince(last, alerts)];
  return made(
    recipient,
    items,
    items.length === 0 ? 'nothing is open and nothing ended' : 'the daily digest',
    nowMs,
  );
}

function openItems(alerts: readonly AlertState[], itemOf: ItemOf): DeliveryItem[] {
  const items = alerts.filter(isOpen).flatMap(({ ruleId, subject, ...alert }) => {
    const episode = episodeOf({ ruleId, subject, ...alert });
    return episode ? [itemOf({ ruleId, subject, episode }, false)] : [];
  });
  return items.sort((a, b) => urgencies.indexOf(a.urgency) - urgencies.indexOf(b.urgency));
}

function overSince(last: Delivery, alerts: readonly AlertState[]): DeliveryItem[] {
  const open = new Set(alerts.filter(isOpen).map((alert) => episodeOf(alert)?.id));
  return last.items
    .filter(({ over, episodeId }) => !over && !open.has(episodeId))
    .map((item) => ({ ...item, over: true }));
}

function made(recipient: Recipient, items: readonly DeliveryItem[], reason: string, nowMs: number): Delivery {
  return {
    key: `${recipient.id}/digest/${String(nowMs)}`,
    recipientId: recipient.id,
    kind: 'digest',
    urgency: items[0]?.urgency ?? 'next-visit',
    items,
    reason,
    state: items.length === 0 ? 'not-told' : 'waiting',
    createdAtMs: nowMs,
    notBeforeMs: nowMs,
    attempts: 0,
    sentAtMs: null,
    lastError: null,
  };
}
