/** Invented alerts, recipients and effects for the tests of telling. */
import type { AlertState, Effect, EffectKind, Episode } from '../../server/rules/engine/alert-state.ts';
import type { Delivery } from '../../server/notify/delivery.ts';
import { degC, say } from '../../server/words/phrase.ts';
import type { Recipient } from '../../server/notify/recipient.ts';
import type { Subject, Urgency } from '../../server/rules/engine/types.ts';

export const min = 60_000;
export const hour = 60 * min;
/** Wednesday, 6 May 2026, 12:00 in Berlin. */
export const noon = Date.UTC(2026, 4, 6, 10);

export const nuc = (n: number, site = 'hill'): Subject => ({
  kind: 'nuc',
  id: `n${String(n)}`,
  name: `Nuc ${String(n)}`,
  siteId: site,
  siteName: site === 'hill' ? 'Hill' : 'Brook',
});

export const recipient = (over: Partial<Recipient> = {}): Recipient => ({
  id: 'phone',
  name: 'My phone',
  enabled: true,
  urgencies: ['now', 'today'],
  quietHours: null,
  digestAt: null,
  display: { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' },
  pageAddress: null,
  channel: { kind: 'browser' },
  ...over,
});

export function effect(
  kind: EffectKind,
  { subject = nuc(1), ruleId = 'brood-chilling', urgency = 'now' as Urgency, atMs = noon, text = '' } = {},
): Effect {
  const key = `${ruleId}/${subject.kind}/${subject.id}`;
  const raised = { atMs: noon, what: 'raised' as const };
  const marks =
    kind === 'raised' ? [raised] : [raised, { atMs, what: kind, by: 'Ann', ...(text && { text }) }];
  const episode: Episode = {
    id: `${key}/1`,
    sinceMs: noon - 20 * min,
    raisedAtMs: noon,
    urgency,
    message: {
      todo: say`Warm it now.`,
      byMs: noon + hour,
      seen: say`Brood at ${degC(30)}.`,
      why: say`Sealed brood is hurt most.`,
      howSure: say`One spot.`,
      settleBy: say`A quick look.`,
      facts: [{ name: 'Temperature', ...degC(30) }],
    },
    seen: null,
    putOffUntilMs: null,
    marks,
  };
  return { kind, atMs, key, ruleId, subject, episode };
}

export const raisedAlert = (
  { key, ruleId, subject, episode }: Effect,
  over: Partial<Episode> = {},
): AlertState => ({
  key,
  ruleId,
  subject,
  at: { phase: 'raised', episode: { ...episode, ...over } },
});

export const delivery = (over: Partial<Delivery> = {}): Delivery => ({
  key: 'phone/k/1',
  recipientId: 'phone',
  kind: 'alert',
  urgency: 'now',
  items: [],
  reason: 'raised',
  state: 'sent',
  createdAtMs: noon,
  notBeforeMs: noon,
  attempts: 1,
  sentAtMs: noon,
  lastError: null,
  ...over,
});
