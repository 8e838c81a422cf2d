/**
 * From what happened to alerts to what waits in the outbox: one decision a recipient, with its reason,
 * and one message for what came together at a site.
 */
import { episodeOf, isOpen, type AlertState, type Effect } from '../rules/engine/alert-state.ts';
import type { Subject } from '../rules/engine/types.ts';
import { decideOnEffect, decideOnReminder, isNews, type Decision } from './decide.ts';
import type { Delivery, DeliveryItem, DeliveryStore } from './delivery.ts';
import { digestFor, type DigestRhythm } from './digest.ts';
import type { Recipient } from './recipient.ts';

export interface NotificationsDeps {
  readonly store: DeliveryStore;
  readonly recipients: () => readonly Recipient[];
  readonly titleOf: (ruleId: string) => string;
  /** IANA zone in which instants about this subject are written. */
  readonly timeZoneOf: (subject: Subject) => string;
  /** Whether a daily digest is due, given when the last one was made. */
  readonly digestDue: (rhythm: DigestRhythm, lastMs: number, nowMs: number) => boolean;
}

export interface Notifications {
  /** Decides on every effect. Call it before the new alert states are stored: sent twice is better than never. */
  onEffects(effects: readonly Effect[], nowMs: number): void;
  /** Reminders and digests; call it about once a minute with all alerts. */
  onMinute(alerts: Iterable<AlertState>, nowMs: number): void;
}

export const createNotifications = (deps: NotificationsDeps): Notifications =>
  new RecipientNotifications(deps);

class RecipientNotifications implements Notifications {
  readonly #deps: NotificationsDeps;

  constructor(deps: NotificationsDeps) {
    this.#deps = deps;
  }

  onEffects(effects: readonly Effect[], nowMs: number): void {
    for (const recipient of this.#deps.recipients()) {
      for (const effect of effects) {
        const { kind, episode } = effect;
        if (!isNews(kind)) continue;
        const earlier = this.#deliveredTo(recipient, episode.id);
        const decision = decideOnEffect(recipient, kind, episode, earlier, nowMs);
        // The history's length tells one "worsened" from the next, and is the same after a restart.
        this.#deliver(recipient, effect, decision, `${kind}/${String(episode.marks.length)}`, nowMs);
      }
    }
  }

  onMinute(alerts: Iterable<AlertState>, nowMs: number): void {
    const { store, recipients, digestDue } = this.#deps;
    const all = [...alerts];
    for (const alert of all) this.#remind(alert, nowMs);
    for (const recipient of recipients()) {
      const last = store.lastDigest(recipient.id);
      const digest = digestFor(
        recipient,
        all,
        last,
        digestDue,
        (effect, over) => this.#itemOf(effect, over),
        nowMs,
      );
      if (digest) store.save(digest);
    }
  }

  #remind(alert: AlertState, nowMs: number): void {
    const episode = episodeOf(alert);
    if (!episode || !isOpen(alert)) return;
    const { key, ruleId, subject } = alert;
    // Read once: one message may be about a hundred alerts.
    const about = this.#deps.store.ofEpisode(episode.id);
    for (const recipient of this.#deps.recipients()) {
      const earlier = about.filter(({ recipientId }) => recipientId === recipient.id);
      const decision = decideOnReminder(recipient, episode, earlier, nowMs);
      if (!decision.send) continue;
      const number = earlier.filter(({ kind }) => kind === 'reminder').length + 1;
      const effect: Effect = { kind: 'raised', atMs: nowMs, key, ruleId, subject, episode };
      this.#deliver(recipient, effect, decision, `reminder/${String(number)}`, nowMs);
    }
  }

  #deliver(recipient: Recipient, effect: Effect, decision: Decision, keyEnd: string, nowMs: number): void {
    const { store } = this.#deps;
    const { episode } = effect;
    const key = `${recipient.id}/${episode.id}/${keyEnd}`;
    for (const overtaken of decision.withdraw ?? []) withdraw(store, overtaken, episode.id, decision.reason);
    if (store.ofEpisode(episode.id).some((earlier) => earlier.key === key)) return;
    const item = this.#itemOf(effect, decision.send && decision.kind === 'all-clear');
    const batch = decision.send ? openBatch(store.waiting(), recipient, item, decision) : undefined;
    if (batch) {
      store.save({ ...batch, items: [...batch.items, item] });
      return;
    }
    store.save({
      key,
      recipientId: recipient.id,
      kind: decision.send ? decision.kind : 'alert',
      urgency: episode.urgency,
      items: [item],
      reason: decision.reason,
      state: decision.send ? 'waiting' : 'not-told',
      createdAtMs: nowMs,
      notBeforeMs: decision.send ? decision.notBeforeMs : nowMs,
      attempts: 0,
      sentAtMs: null,
      lastError: null,
    });
  }

  #deliveredTo(recipient: Recipient, episodeId: string): readonly Delivery[] {
    return this.#deps.store.ofEpisode(episodeId).filter(({ recipientId }) => recipientId === recipient.id);
  }

  #itemOf(effect: Pick<Effect, 'ruleId' | 'subject' | 'episode'>, over: boolean): DeliveryItem {
    const { ruleId, subject, episode } = effect;
    const last = episode.marks.at(-1);
    return {
      episodeId: episode.id,
      ruleId,
      title: this.#deps.titleOf(ruleId),
      subject,
      timeZone: this.#deps.timeZoneOf(subject),
      urgency: episode.urgency,
      message: episode.message,
      over,
      ...(last?.what === 'closed' && last.text !== undefined && { found: last.text }),
    };
  }
}

/** A message of the same rule, site and kind that has not been tried yet takes another item along. */
function openBatch(
  waiting: readonly Delivery[],
  recipient: Recipient,
  { ruleId, subject, urgency }: DeliveryItem,
  decision: Extract<Decision, { send: true }>,
): Delivery | undefined {
  return waiting.find(
    (delivery) =>
      delivery.recipientId === recipient.id &&
      delivery.kind === decision.kind &&
      delivery.attempts === 0 &&
      delivery.urgency === urgency &&
      delivery.items[0]?.ruleId === ruleId &&
      delivery.items[0].subject.siteId === subject.siteId &&
      subject.siteId !== undefined,
  );
}

/** Takes an alert out of a message that was not sent yet; an empty one is not sent at all. */
function withdraw(store: DeliveryStore, delivery: Delivery, episodeId: string, reason: string): void {
  const items = delivery.items.filter((item) => item.episodeId !== episodeId);
  if (items.length > 0) store.save({ ...delivery, items });
  else store.save({ ...delivery, state: 'not-told', reason: `over before it was sent (${reason})` });
}
