/**
 * From what happened to alerts to what waits in the outbox: one decision a recipient, with its reason,
 * and one message for what came together at a site.
 */
import { episodeOf, isOpen, type AlertState, type Effect } from '../rules/engine/alert-state.ts';
import type { Subject } from '../rules/engine/types.ts';
import {
  decideOnEffect,
  decideOnReminder,
  decideOnToldOn,
  isNews,
  isUntried,
  needlessAfter,
  type Decision,
} from './decide.ts';
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
    const outgoing = new Outgoing(this.#deps.store, nowMs);
    for (const recipient of this.#deps.recipients()) {
      for (const effect of effects) {
        const { kind, episode, toldBy } = effect;
        const earlier = this.#deliveredTo(recipient, episode.id);
        for (const needless of needlessAfter(kind, earlier))
          outgoing.takeOut(needless, effect, `the alert was ${kind === 'seen' ? 'seen' : 'put off'}`);
        if (!isNews(kind)) continue;
        const decision =
          toldBy === undefined
            ? decideOnEffect(recipient, kind, episode, earlier, nowMs)
            : decideOnToldOn(this.#deps.titleOf(toldBy), earlier);
        // The history's length tells one "worsened" from the next, and is the same after a restart.
        this.#deliver(outgoing, recipient, effect, decision, `${kind}/${String(episode.marks.length)}`);
      }
    }
  }

  onMinute(alerts: Iterable<AlertState>, nowMs: number): void {
    const { store, recipients, digestDue } = this.#deps;
    const all = [...alerts];
    const outgoing = new Outgoing(store, nowMs);
    for (const alert of all) this.#remind(outgoing, alert);
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

  #remind(outgoing: Outgoing, alert: AlertState): void {
    const { nowMs } = outgoing;
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
      this.#deliver(outgoing, recipient, effect, decision, `reminder/${String(number)}`);
    }
  }

  #deliver(
    outgoing: Outgoing,
    recipient: Recipient,
    effect: Effect,
    decision: Decision,
    keyEnd: string,
  ): void {
    const { store } = this.#deps;
    const { nowMs } = outgoing;
    const { episode } = effect;
    const key = `${recipient.id}/${episode.id}/${keyEnd}`;
    for (const overtaken of decision.withdraw ?? []) outgoing.takeOut(overtaken, effect, decision.reason);
    if (store.ofEpisode(episode.id).some((earlier) => earlier.key === key)) return;
    if (decision.send && decision.kind === 'alert')
      for (const overtaken of outgoing.untriedAbout(recipient, effect))
        outgoing.takeOut(overtaken, effect, decision.reason);
    const item = this.#itemOf(effect, decision.send && decision.kind === 'all-clear');
    const batch = decision.send ? outgoing.batchFor(recipient, item, decision) : undefined;
    if (batch) {
      outgoing.save({ ...batch, items: [...batch.items, item] });
      return;
    }
    outgoing.save({
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

/** What is decided in one go. What waits already is read once for all of it, and only where something is sent. */
class Outgoing {
  readonly nowMs: number;
  readonly #store: DeliveryStore;
  /** By key: what waits and was not tried yet, digests apart. */
  #untried: Map<string, Delivery> | undefined;
  /** Those of a site, which take another item along. */
  readonly #batches = new Map<string, Delivery>();

  constructor(store: DeliveryStore, nowMs: number) {
    this.#store = store;
    this.nowMs = nowMs;
  }

  /** A message of the same rule, site and kind that has not been tried yet. */
  batchFor(
    { id }: Recipient,
    { ruleId, subject, urgency }: DeliveryItem,
    { kind }: Extract<Decision, { send: true }>,
  ): Delivery | undefined {
    if (subject.siteId === undefined) return undefined;
    this.#allUntried();
    return this.#batches.get(JSON.stringify([id, kind, urgency, ruleId, subject.siteId]));
  }

  /** Messages about the same alert, of this or an earlier episode: its news would arrive before them. */
  untriedAbout({ id }: Recipient, effect: Effect): readonly Delivery[] {
    return [...this.#allUntried().values()].filter(
      ({ recipientId, items }) => recipientId === id && items.some((item) => isAbout(item, effect)),
    );
  }

  /** Takes an alert out of a message that was not sent yet; an empty one is not sent at all. */
  takeOut(delivery: Delivery, effect: Effect, reason: string): void {
    const items = delivery.items.filter((item) => !isAbout(item, effect));
    if (items.length > 0) this.save({ ...delivery, items });
    else this.save({ ...delivery, state: 'not-told', reason: `taken back before it was sent (${reason})` });
  }

  save(delivery: Delivery): void {
    this.#store.save(delivery);
    if (this.#untried) this.#note(this.#untried, delivery);
  }

  #allUntried(): ReadonlyMap<string, Delivery> {
    if (this.#untried) return this.#untried;
    this.#untried = new Map();
    for (const delivery of this.#store.waiting()) this.#note(this.#untried, delivery);
    return this.#untried;
  }

  #note(untried: Map<string, Delivery>, delivery: Delivery): void {
    const { key, kind, items } = delivery;
    const batch = batchOf(delivery);
    if (isUntried(delivery) && kind !== 'digest') {
      untried.set(key, delivery);
      if (items[0]?.subject.siteId !== undefined) this.#batches.set(batch, delivery);
      return;
    }
    untried.delete(key);
    if (this.#batches.get(batch)?.key === key) this.#batches.delete(batch);
  }
}

const batchOf = ({ recipientId, kind, urgency, items: [first] }: Delivery): string =>
  JSON.stringify([recipientId, kind, urgency, first?.ruleId, first?.subject.siteId]);
const isAbout = (item: DeliveryItem, { ruleId, subject }: Effect): boolean =>
  item.ruleId === ruleId && item.subject.kind === subject.kind && item.subject.id === subject.id;
