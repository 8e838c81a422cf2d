/**
 * A notification to one recipient, from the decision to the receipt. Kept in the store, so that a
 * server that is killed neither forgets a message nor sends it twice.
 */
import type { AlertMessage, Subject, Urgency } from '../rules/engine/types.ts';

/** One alert within a message. */
export interface DeliveryItem {
  readonly episodeId: string;
  readonly ruleId: string;
  readonly title: string;
  readonly subject: Subject;
  readonly timeZone: string;
  readonly urgency: Urgency;
  readonly message: AlertMessage;
  /** In a digest: still open, or over since it was sent. */
  readonly over: boolean;
  /** What the keeper found, where the alert was closed by hand. */
  readonly found?: string;
}

export const deliveryKinds = ['alert', 'reminder', 'all-clear', 'digest', 'test'] as const;
export type DeliveryKind = (typeof deliveryKinds)[number];

export type DeliveryState = 'waiting' | 'sent' | 'given-up' | 'not-told';

export interface Delivery {
  /** Also the idempotency key that receivers see: the same message never has two. */
  readonly key: string;
  readonly recipientId: string;
  readonly kind: DeliveryKind;
  readonly urgency: Urgency;
  readonly items: readonly DeliveryItem[];
  /** Why it is sent, or not. */
  readonly reason: string;
  readonly state: DeliveryState;
  readonly createdAtMs: number;
  /** Not before this: quiet hours, a batch that fills, a pause after a failure. */
  readonly notBeforeMs: number;
  readonly attempts: number;
  readonly sentAtMs: number | null;
  /** Of one that was sent: whom it did not reach. */
  readonly lastError: string | null;
}

/** Where deliveries are kept. Every call is durable when it returns. */
export interface DeliveryStore {
  /** Inserts, or replaces the one with the same key. */
  save(delivery: Delivery): void;
  get(key: string): Delivery | undefined;
  /** All that wait, each read anew; in the order in which they were created. */
  waiting(): readonly Delivery[];
  /** All with this episode among their items, in the order in which they were created. */
  ofEpisode(episodeId: string): readonly Delivery[];
  /** The latest digest made for a recipient, sent or not. */
  lastDigest(recipientId: string): Delivery | null;
  /** Newest first. */
  recent(limit: number): readonly Delivery[];
}
