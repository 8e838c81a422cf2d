/**
 * Whether to notify: one decision with its reason, which is stored and shown. Whether something is
 * true (rules) and how it is sent (the senders) are decided elsewhere.
 */
import type { EffectKind, Episode } from '../rules/engine/alert-state.ts';
import type { Urgency } from '../rules/engine/types.ts';
import type { Delivery, DeliveryKind } from './delivery.ts';
import { quietUntilMs } from './quiet-hours.ts';
import type { Recipient } from './recipient.ts';

export type Decision =
  | {
      readonly send: true;
      readonly kind: DeliveryKind;
      readonly reason: string;
      readonly notBeforeMs: number;
      /** Not yet sent and overtaken. */
      readonly withdraw?: readonly Delivery[];
    }
  | { readonly send: false; readonly reason: string; readonly withdraw?: readonly Delivery[] };

/** How long a message waits for others of its kind and site, and how often it is repeated until seen. */
export interface Timing {
  readonly gatherMs: number;
  readonly repeatMs: number;
  readonly repeats: number;
}
const defaultTiming: Readonly<Record<Urgency, Timing>> = {
  now: { gatherMs: 10_000, repeatMs: 30 * 60_000, repeats: 3 },
  today: { gatherMs: 5 * 60_000, repeatMs: 4 * 3_600_000, repeats: 1 },
  'next-visit': { gatherMs: 15 * 60_000, repeatMs: 0, repeats: 0 },
};

const news: Partial<Record<EffectKind, string>> = {
  raised: 'raised',
  worsened: 'more pressing than when it was sent',
  're-opened': 'opened again',
  'put-off-over': 'the time until which it was put off is over',
  'still-so': 'it was closed long ago and is still so',
};
const ends: Partial<Record<EffectKind, string>> = {
  cleared: 'over, and a notification had been sent',
  'no-longer-applies': 'no longer applies, and a notification had been sent',
  closed: 'closed by a keeper, and a notification had been sent',
};

/** What a person did about an alert is in its history; nobody is notified. */
export const isNews = (kind: EffectKind): boolean => kind in news || kind in ends;

export const switchedOff = 'this notification channel is switched off';

/** Not even tried yet, so that it can't have arrived. */
export const isUntried = ({ state, attempts }: Delivery): boolean => state === 'waiting' && attempts === 0;

/** What need not be sent after somebody saw the alert, or put it off: then it comes when that time is over. */
export function needlessAfter(kind: EffectKind, earlier: readonly Delivery[]): readonly Delivery[] {
  const needless: readonly DeliveryKind[] =
    kind === 'seen' ? ['reminder'] : kind === 'put-off' ? ['reminder', 'alert'] : [];
  return earlier.filter((delivery) => isUntried(delivery) && needless.includes(delivery.kind));
}

/** `earlier`: all deliveries of this episode to this recipient. */
export function decideOnEffect(
  recipient: Recipient,
  kind: EffectKind,
  { urgency }: Episode,
  earlier: readonly Delivery[],
  nowMs: number,
): Decision {
  const reason = news[kind];
  if (reason !== undefined) return decideOnNews(recipient, urgency, reason, nowMs);
  if (!recipient.enabled) return { send: false, reason: switchedOff };
  const end = ends[kind] ?? 'over';
  const sent = earlier.filter((delivery) => delivery.state === 'sent' && delivery.kind !== 'digest');
  const waiting = earlier.filter((delivery) => delivery.state === 'waiting' && delivery.kind !== 'all-clear');
  // A first attempt that failed may still have arrived: what may have been read is followed by its end.
  const unsent = waiting.filter(isUntried);
  if (sent.length === 0 && unsent.length === waiting.length) {
    const never = earlier.some((delivery) => delivery.state === 'sent')
      ? 'it was in a digest, so the next digest says that it is over'
      : 'it was never sent here';
    return { send: false, reason: never, withdraw: unsent };
  }
  const gathered = nowMs + defaultTiming[urgency].gatherMs;
  const notBeforeMs = Math.max(gathered, quietFrom(recipient, urgency, nowMs));
  return { send: true, kind: 'all-clear', reason: end, notBeforeMs, withdraw: unsent };
}

/** Another alert tells it from now on, so that nothing is over; what waits about it is not sent any more. */
export const decideOnToldOn = (by: string, earlier: readonly Delivery[]): Decision => ({
  send: false,
  reason: `“${by}” tells it now`,
  withdraw: earlier.filter(isUntried),
});

function decideOnNews(recipient: Recipient, urgency: Urgency, reason: string, nowMs: number): Decision {
  if (!recipient.enabled) return { send: false, reason: switchedOff };
  if (!recipient.urgencies.includes(urgency)) {
    const later = recipient.digestAt === null ? 'and there is no digest' : 'so it waits for the digest';
    return { send: false, reason: `“${urgency}” is not sent at once here, ${later}` };
  }
  const gathered = nowMs + defaultTiming[urgency].gatherMs;
  const notBeforeMs = Math.max(gathered, quietFrom(recipient, urgency, nowMs));
  const held = notBeforeMs > gathered ? '; held back until the quiet hours end' : '';
  return { send: true, kind: 'alert', reason: `${reason}${held}`, notBeforeMs };
}

/** What is to be done now breaks through quiet hours; all else waits for their end. */
function quietFrom({ quietHours }: Recipient, urgency: Urgency, nowMs: number): number {
  if (urgency === 'now' || quietHours === null) return nowMs;
  return quietUntilMs(quietHours, nowMs) ?? nowMs;
}

/** Asked again and again while an alert stands: is it time to remind somebody who has not reacted? */
export function decideOnReminder(
  recipient: Recipient,
  episode: Episode,
  earlier: readonly Delivery[],
  nowMs: number,
): Decision {
  const { repeatMs, repeats } = defaultTiming[episode.urgency];
  if (!recipient.enabled) return { send: false, reason: switchedOff };
  if (episode.seen) return { send: false, reason: `seen by ${episode.seen.by}` };
  if (episode.putOffUntilMs !== null) return { send: false, reason: 'put off' };
  if (earlier.some(({ state }) => state === 'waiting'))
    return { send: false, reason: 'a message is on its way' };
  const sent = earlier.filter(({ state, kind }) => state === 'sent' && kind !== 'digest' && kind !== 'test');
  const sinceMs = nowMs - (sent.at(-1)?.sentAtMs ?? 0);
  if (sent.length === 0) return { send: false, reason: 'it was never sent here' };
  // News since then, such as the end of the time until which it was put off, is reminded of anew.
  const sinceNews = sent.slice(sent.findLastIndex(({ kind }) => kind === 'alert') + 1);
  const reminded = sinceNews.filter(({ kind }) => kind === 'reminder').length;
  if (reminded >= repeats)
    return { send: false, reason: `reminded ${String(reminded)} times, which is the limit` };
  // A clock that was set back must not keep the reminder for as long as it was ahead.
  if (sinceMs >= 0 && sinceMs < repeatMs) return { send: false, reason: 'sent not long ago' };
  const notBeforeMs = quietFrom(recipient, episode.urgency, nowMs);
  const reason = `nobody has seen it yet; reminder ${String(reminded + 1)} of ${String(repeats)}`;
  return { send: true, kind: 'reminder', reason, notBeforeMs };
}
