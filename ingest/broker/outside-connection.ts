/**
 * One connection to an outside broker: the `mqtt` client with its keep-alive, behind a gate that acknowledges after
 * the commit. A client lives as long as its connection: what it could not deliver must not be sent again unasked on
 * the next one, which may use another version.
 */
import type { Duplex } from 'node:stream';
import { MqttClient, type ErrorWithReasonCode, type IClientOptions, type IPublishPacket } from 'mqtt';
import { presence } from '../decode/own-topics.ts';
import { AcknowledgementGate } from './acknowledgement-gate.ts';
import type { FirstReceipts } from './first-receipts.ts';
import { frameGuard, type Oversized } from './frame-guard.ts';
import type { Receive } from './link.ts';
import { openConnection, type BrokerAddress } from './open-connection.ts';
import type { OutsideBroker, OutsideLimits } from './outside-options.ts';
import type { Unanswered } from './refused-topics.ts';

export type MqttVersion = 4 | 5;

/** The broker keeps the session for thirty days; then a season's pause is a new beginning. */
const sessionExpiryS = 30 * 24 * 3600;
/** CONNACK codes by which brokers refuse a protocol version: 3.1.1 says 1, 5 says 0x84. */
const refusedVersions: ReadonlySet<number> = new Set([0x01, 0x84]);
/** Answers of MQTT 5 from here on are refusals. */
const firstFailure = 0x80;
const closingMs = 1000;

/** What the client says where nobody answers, in plain words. */
const silences: Readonly<Record<string, string>> = {
  'connack timeout': 'it does not answer; check its address and port, and whether it wants TLS (mqtts)',
  'Keepalive timeout': 'it no longer answers',
};

export interface ConnectionOptions {
  readonly broker: OutsideBroker;
  readonly address: BrokerAddress;
  readonly limits: OutsideLimits;
  readonly version: MqttVersion;
  /** Of the session, which outlives the connection. */
  readonly receipts: FirstReceipts;
}

export interface ConnectionEnd {
  /** In a few words. */
  readonly reason: string;
  /** The broker could be spoken to. */
  readonly opened: boolean;
  readonly versionRefused: boolean;
  /** Undefined where the broker never accepted the connection. */
  readonly lastedMs: number | undefined;
  /** The oldest message of ours that the broker had not answered. */
  readonly unanswered: Unanswered | undefined;
}

export interface ConnectionEvents {
  readonly receive: Receive;
  onReady(): void;
  onClosed(end: ConnectionEnd): void;
  onWarning(sentence: string): void;
  onAccepted(topic: string): void;
  /** The broker answered that we may not publish there; MQTT 5 alone has an answer. */
  onRefused(topic: string, reason: number, words: string): void;
}

interface Outgoing {
  readonly topic: string;
  readonly sentMs: number;
  readonly reject: (error: Error) => void;
}

function clientOptions(broker: OutsideBroker, limits: OutsideLimits, version: MqttVersion): IClientOptions {
  const { clientId, username, password } = broker;
  const { keepaliveS: keepalive, receiveMaximum } = limits;
  return {
    protocolVersion: version,
    clean: false,
    clientId,
    keepalive,
    connectTimeout: keepalive * 1000,
    ...(username === undefined ? {} : { username }),
    ...(password === undefined ? {} : { password }),
    will: { topic: presence.topic, payload: Buffer.from(presence.gone), qos: 1, retain: true },
    ...(version === 5 ? { properties: { sessionExpiryInterval: sessionExpiryS, receiveMaximum } } : {}),
    // Both are done anew with each connection.
    reconnectPeriod: 0,
    resubscribe: false,
    // Its table of written numbers takes 10 MB.
    writeCache: false,
  };
}

export class OutsideConnection {
  readonly #version: MqttVersion;
  readonly #limits: OutsideLimits;
  readonly #receipts: FirstReceipts;
  readonly #events: ConnectionEvents;
  readonly #gate: AcknowledgementGate;
  readonly #client: MqttClient;
  readonly #outgoing = new Set<Outgoing>();
  readonly #closed: Promise<void>;
  #opened = false;
  #versionRefused = false;
  #readySinceMs: number | undefined;
  #reason = 'the connection was closed';

  constructor(options: ConnectionOptions, events: ConnectionEvents) {
    const { broker, address, limits, version, receipts } = options;
    this.#version = version;
    this.#limits = limits;
    this.#receipts = receipts;
    this.#events = events;
    const connection = openConnection(address, broker.ca, () => {
      this.#opened = true;
    });
    this.#gate = this.#gateOn(connection);
    this.#client = new MqttClient(() => this.#gate, clientOptions(broker, limits, version));
    this.#listen();
    this.#closed = new Promise((resolve) => {
      this.#client.once('close', () => {
        this.#onClose();
        resolve();
      });
    });
  }

  get ready(): boolean {
    return this.#readySinceMs !== undefined && !this.#gate.destroyed;
  }

  #gateOn(connection: Duplex): AcknowledgementGate {
    const guard = frameGuard(
      this.#limits.maxPacketBytes,
      () => this.#version === 5,
      (packet) => {
        this.#onOversized(packet);
      },
    );
    const gate = new AcknowledgementGate(connection, (chunk) => guard.pass(chunk));
    gate.on('error', (error) => {
      this.#reason = error.message;
    });
    return gate;
  }

  #listen(): void {
    const client = this.#client;
    client.on('connect', ({ sessionPresent }) => {
      if (!sessionPresent) this.#receipts.clear();
      this.#readySinceMs = performance.now();
      this.#events.onReady();
    });
    client.on('message', (_topic, _payload, packet) => {
      this.#onMessage(packet);
    });
    client.on('disconnect', () => {
      this.#gate.destroy(new Error('the broker said goodbye'));
    });
    client.on('error', (error) => {
      this.#onError(error);
    });
  }

  #onError(error: Error | ErrorWithReasonCode): void {
    const code = 'code' in error ? error.code : undefined;
    if (this.#readySinceMs === undefined && typeof code === 'number') {
      this.#versionRefused = refusedVersions.has(code);
      this.#reason = `the broker refused the connection (code ${String(code)})`;
    } else this.#reason = silences[error.message] ?? error.message;
    this.#gate.destroy();
  }

  #onMessage({ topic, payload: content, retain, qos, dup, messageId = 0 }: IPublishPacket): void {
    const payload = typeof content === 'string' ? Buffer.from(content) : content;
    // QoS 2 is not asked for, and what came at QoS 0 does not come again: it outlives its connection.
    if (qos !== 1) this.#events.receive({ topic, payload, retain }, this.#settling());
    else {
      const receipt = this.#receipts.of({ topic, payload, messageId, dup });
      this.#events.receive({ topic, payload, retain, owner: this, receipt }, this.#settling(messageId));
    }
  }

  #onOversized({ publish: message, bytes }: Oversized): void {
    if (!message || message.qos > 1) {
      this.#gate.destroy(new Error(`a packet of ${String(bytes)} bytes is too large`));
      return;
    }
    const { topic, head, payloadBytes, messageId } = message;
    const refuse = `the message has ${String(payloadBytes)} bytes; at most ${String(this.#limits.maxPacketBytes)} are taken`;
    this.#events.receive(
      {
        topic,
        payload: head,
        payloadBytes,
        retain: false,
        refuse,
        ...(messageId !== undefined && { owner: this }),
      },
      this.#settling(messageId),
    );
  }

  #settling(messageId?: number): (stored: boolean) => void {
    const release = messageId === undefined ? undefined : this.#gate.hold(messageId);
    return (stored) => {
      if (stored) release?.();
      else this.#gate.destroy(new Error('more came than can be held while nothing can be stored'));
    };
  }

  subscribe(filters: readonly string[]): void {
    // What we publish ourselves need not come back (MQTT 5).
    const how = this.#version === 5 ? ({ qos: 1, nl: true } as const) : ({ qos: 1 } as const);
    this.#client.subscribe([...filters], how, (error) => {
      if (error && !this.#gate.destroyed)
        this.#events.onWarning(
          `The broker refused a subscription; give this user the right to read (${error.message})`,
        );
    });
  }

  /** Calls `done` when the broker has answered. */
  unsubscribe(filter: string, done: () => void): void {
    this.#client.unsubscribe(filter, (error) => {
      if (!error) done();
    });
  }

  /** Resolves when the broker has it; rejects where it refuses it or the connection ends before. */
  publish(topic: string, payload: string | Uint8Array, retain: boolean): Promise<void> {
    return new Promise((resolve, reject) => {
      const outgoing: Outgoing = { topic, sentMs: performance.now(), reject };
      this.#outgoing.add(outgoing);
      this.#client.publish(topic, Buffer.from(payload), { qos: 1, retain }, (error) => {
        this.#outgoing.delete(outgoing);
        if (!error) {
          this.#events.onAccepted(topic);
          resolve();
          return;
        }
        const code = 'code' in error ? Number(error.code) : 0;
        if (code >= firstFailure) this.#events.onRefused(topic, code, error.message);
        reject(new Error(`The broker did not take what was published on ${topic}: ${error.message}.`));
      });
    });
  }

  /** Says goodbye, on the topic of `presence` too where that is allowed: then the broker does not publish the will. */
  async close(mayPublish: boolean): Promise<void> {
    const late = setTimeout(() => this.#gate.destroy(), closingMs);
    if (this.ready && mayPublish)
      await this.publish(presence.topic, presence.gone, true).catch(() => undefined);
    this.#client.end();
    await this.#closed;
    clearTimeout(late);
  }

  #onClose(): void {
    const [oldest] = this.#outgoing;
    const nowMs = performance.now();
    for (const { reject } of this.#outgoing)
      reject(new Error(`The broker is not connected: ${this.#reason}.`));
    this.#outgoing.clear();
    this.#events.onClosed({
      reason: this.#reason,
      opened: this.#opened,
      versionRefused: this.#versionRefused,
      lastedMs: this.#readySinceMs === undefined ? undefined : nowMs - this.#readySinceMs,
      unanswered: oldest && { topic: oldest.topic, ageMs: nowMs - oldest.sentMs },
    });
  }
}
