/**
 * A broker that the user has already. MQTT 5 is tried first, then 3.1.1. The session is persistent under a fixed client
 * id, so that the broker keeps what comes while the server is down. Subscriptions are sent on every connection, not
 * only where the session is lost: mappings may have changed meanwhile, and the retained descriptions of sensors come
 * again.
 */
import { presence } from '../decode/own-topics.ts';
import { Backoff } from './backoff.ts';
import { FirstReceipts } from './first-receipts.ts';
import type { Link, LinkEvents } from './link.ts';
import { brokerAddress, type BrokerAddress } from './open-connection.ts';
import { OutsideConnection, type ConnectionEnd, type MqttVersion } from './outside-connection.ts';
import type { OutsideBroker, OutsideLimits } from './outside-options.ts';
import { RefusedTopics } from './refused-topics.ts';

export interface OutsideEvents extends LinkEvents {
  /** The connection `owner` is gone: the broker sends again on the next one what it did not see acknowledged. */
  forget(owner: object): void;
}

class OutsideLink implements Link {
  readonly address: BrokerAddress;
  readonly #broker: OutsideBroker;
  readonly #limits: OutsideLimits;
  readonly #events: OutsideEvents;
  readonly #defaultFilters: readonly string[];
  readonly #receipts = new FirstReceipts();
  readonly #refused = new RefusedTopics();
  readonly #backoff: Backoff;
  #filters: ReadonlySet<string>;
  /** No longer wanted, and still in the session that the broker keeps for us. */
  readonly #dropped = new Set<string>();
  #version: MqttVersion = 5;
  #current: OutsideConnection | undefined;
  #retry: NodeJS.Timeout | undefined;
  #stopped = false;

  constructor(
    broker: OutsideBroker,
    limits: OutsideLimits,
    events: OutsideEvents,
    defaultFilters: readonly string[],
  ) {
    this.address = brokerAddress(broker.url);
    this.#broker = broker;
    this.#limits = limits;
    this.#events = events;
    this.#defaultFilters = defaultFilters;
    this.#filters = new Set(defaultFilters);
    this.#backoff = new Backoff(limits.reconnectMs, limits.maxReconnectMs);
    this.#open();
  }

  get #name(): string {
    return `The broker ${this.address.host}:${String(this.address.port)}`;
  }

  #open(): void {
    const events = this.#events;
    const connection: OutsideConnection = new OutsideConnection(
      {
        broker: this.#broker,
        address: this.address,
        limits: this.#limits,
        version: this.#version,
        receipts: this.#receipts,
      },
      {
        receive: events.receive,
        onReady: () => {
          this.#onReady(connection);
        },
        onClosed: (end) => {
          this.#onClosed(connection, end);
        },
        onWarning: (sentence) => {
          events.onWarning(sentence);
        },
        onAccepted: (topic) => {
          this.#refused.onAccepted(topic);
        },
        onRefused: (topic, reason, words) => {
          if (this.#refused.onRefusal(topic, reason)) this.#warnOfRefusal(topic, words);
        },
      },
    );
    this.#current = connection;
  }

  #onReady(connection: OutsideConnection): void {
    connection.subscribe([...this.#filters]);
    this.#unsubscribeDropped(connection);
    this.#events.onConnected();
    this.publish(presence.topic, presence.here, { retain: true }).catch(() => undefined);
  }

  #onClosed(connection: OutsideConnection, end: ConnectionEnd): void {
    this.#current = undefined;
    this.#events.forget(connection);
    if (this.#stopped) return;
    if (end.lastedMs !== undefined) {
      const topic = this.#refused.onClosed(end.unanswered);
      if (topic !== undefined) this.#warnOfRefusal(topic, 'it closes the connection');
    }
    const refusedFive = end.versionRefused && this.#version === 5;
    // Some brokers just hang up on a version that they don't support.
    if (end.opened && end.lastedMs === undefined) this.#version = this.#version === 5 ? 4 : 5;
    this.#events.onDisconnected(`${this.#name} is not connected: ${end.reason}. Trying again.`);
    this.#retry = setTimeout(
      () => {
        this.#open();
      },
      refusedFive ? 0 : this.#backoff.pauseMs(end.lastedMs ?? 0),
    );
  }

  #warnOfRefusal(topic: string, words: string): void {
    this.#events.onWarning(
      `${this.#name} refuses what the server publishes on ${topic} (${words}). Nothing more is published there; give this user the right to write it, then restart the server`,
    );
  }

  publish(topic: string, payload: string | Uint8Array, { retain }: { retain: boolean }): Promise<void> {
    if (this.#refused.has(topic))
      return Promise.reject(new Error(`${this.#name} refuses what is published on ${topic}.`));
    if (!this.#current?.ready) return Promise.reject(new Error(`${this.#name} is not connected.`));
    return this.#current.publish(topic, payload, retain);
  }

  setFilters(next: readonly string[]): void {
    const before = this.#filters;
    const wanted = new Set([...this.#defaultFilters, ...next]);
    for (const filter of before) if (!wanted.has(filter)) this.#dropped.add(filter);
    for (const filter of wanted) this.#dropped.delete(filter);
    this.#filters = wanted;
    if (!this.#current?.ready) return;
    const added = [...wanted].filter((filter) => !before.has(filter));
    if (added.length > 0) this.#current.subscribe(added);
    this.#unsubscribeDropped(this.#current);
  }

  #unsubscribeDropped(connection: OutsideConnection): void {
    for (const filter of this.#dropped)
      connection.unsubscribe(filter, () => {
        this.#dropped.delete(filter);
      });
  }

  setDevices(): void {
    // Somebody else's broker has devices of its own.
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    clearTimeout(this.#retry);
    await this.#current?.close(!this.#refused.has(presence.topic));
  }
}

/** Starts to connect, and keeps trying. */
export function startOutside(
  broker: OutsideBroker,
  limits: OutsideLimits,
  events: OutsideEvents,
  defaultFilters: readonly string[],
): Link {
  return new OutsideLink(broker, limits, events, defaultFilters);
}
