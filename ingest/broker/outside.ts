/**
 * A broker that the keeper has already. A small client on `mqtt-packet` instead of a whole one, because it has to hold
 * many unacknowledged messages at once: they are committed together, and only then acknowledged, in their order.
 *
 * MQTT 5 is tried first, then 3.1.1. The session is persistent under a fixed client id, so that the broker keeps what
 * comes while the server is down. Subscriptions are sent on every connection, not only where the session is lost:
 * mappings may have changed meanwhile, and the retained descriptions of sensors come again.
 */
import { connect as connectTcp, type Socket } from 'node:net';
import { connect as connectTls } from 'node:tls';
import mqttPacket, { type IConnackPacket, type IPublishPacket, type Packet } from 'mqtt-packet';
import { serverRoot } from '../decode/own-topics.ts';
import { frameGuard, type Oversized } from './frame-guard.ts';
import type { Link, LinkEvents } from './link.ts';

export interface OutsideBroker {
  readonly kind: 'outside';
  /** `mqtt://host:port` or `mqtts://host:port`. */
  readonly url: string;
  readonly clientId: string;
  readonly username?: string;
  readonly password?: string;
  /** PEM text of the authority that signed the broker's certificate. */
  readonly ca?: string;
}

export interface OutsideLimits {
  readonly maxPacketBytes: number;
  /** Messages that the broker may have under way to us (MQTT 5). */
  readonly receiveMaximum: number;
  readonly keepaliveS: number;
  readonly reconnectMs: number;
  readonly maxReconnectMs: number;
}

const onlineTopic = `${serverRoot}/online`;
/** The broker keeps the session for thirty days; then a season's pause is a new beginning. */
const sessionExpiryS = 30 * 24 * 3600;
/** CONNACK codes by which brokers refuse a protocol version: 3.1.1 says 1, 5 says 0x84. */
const refusedVersions = [0x01, 0x84];

interface Connection {
  readonly socket: Socket;
  readonly version: 4 | 5;
  /** It was opened far enough to say hello. */
  greeted: boolean;
  ready: boolean;
  /** Identifiers to acknowledge in one write. */
  acks: number[];
  lastHeardMs: number;
  pings: NodeJS.Timeout | undefined;
}

export function startOutside(
  options: OutsideBroker,
  limits: OutsideLimits,
  events: LinkEvents & { forget(owner: object): void },
  standardFilters: readonly string[],
): Link {
  const url = new URL(options.url);
  const secure = url.protocol === 'mqtts:';
  const host = url.hostname.replace(/^\[(.*)\]$/, '$1');
  const port = url.port === '' ? (secure ? 8883 : 1883) : Number(url.port);
  let filters: readonly string[] = standardFilters;
  let version: 4 | 5 = 5;
  let current: Connection | undefined;
  let stopped = false;
  let retry: NodeJS.Timeout | undefined;
  let pauseMs = limits.reconnectMs;
  let nextId = 0;
  const waiting = new Map<number, { resolve: () => void; reject: (error: Error) => void }>();

  function send(connection: Connection, packet: Packet): void {
    if (connection.socket.writable) {
      connection.socket.write(mqttPacket.generate(packet, { protocolVersion: connection.version }));
    }
  }

  const newId = (): number => {
    nextId = (nextId % 65_535) + 1;
    return nextId;
  };

  function subscribe(connection: Connection): void {
    send(connection, {
      cmd: 'subscribe',
      messageId: newId(),
      // What we publish ourselves need not come back (MQTT 5).
      subscriptions: filters.map((topic) => ({
        topic,
        qos: 1,
        ...(connection.version === 5 ? { nl: true } : {}),
      })),
    });
  }

  /** Every acknowledgement of a commit leaves in one piece; a PUBACK without a reason is the same in 3.1.1 and 5. */
  function acknowledge(connection: Connection, messageId: number): void {
    connection.acks.push(messageId);
    if (connection.acks.length > 1) return;
    process.nextTick(() => {
      const ids = connection.acks;
      connection.acks = [];
      const bytes = Buffer.alloc(ids.length * 4);
      for (const [at, id] of ids.entries()) {
        bytes.writeUInt16BE(0x4002, at * 4);
        bytes.writeUInt16BE(id, at * 4 + 2);
      }
      if (connection.socket.writable) connection.socket.write(bytes);
    });
  }

  function hello(connection: Connection): void {
    connection.greeted = true;
    const five = connection.version === 5;
    send(connection, {
      cmd: 'connect',
      protocolId: 'MQTT',
      protocolVersion: connection.version,
      clean: false,
      clientId: options.clientId,
      keepalive: limits.keepaliveS,
      ...(options.username === undefined ? {} : { username: options.username }),
      ...(options.password === undefined ? {} : { password: Buffer.from(options.password) }),
      will: { topic: onlineTopic, payload: Buffer.from('false'), qos: 1, retain: true },
      ...(five
        ? { properties: { sessionExpiryInterval: sessionExpiryS, receiveMaximum: limits.receiveMaximum } }
        : {}),
    });
  }

  function onConnack(connection: Connection, packet: IConnackPacket): void {
    const code = packet.reasonCode ?? packet.returnCode ?? 0;
    if (code !== 0) {
      if (connection.version === 5 && refusedVersions.includes(code)) pauseMs = 0;
      connection.socket.destroy(new Error(`the broker refused the connection (code ${String(code)})`));
      return;
    }
    connection.ready = true;
    pauseMs = limits.reconnectMs;
    subscribe(connection);
    connection.pings = setInterval(() => {
      ping(connection);
    }, limits.keepaliveS * 500);
    events.onConnected();
    void publish(onlineTopic, 'true', { retain: true }).catch(() => undefined);
  }

  function ping(connection: Connection): void {
    if (performance.now() - connection.lastHeardMs > limits.keepaliveS * 1500) {
      connection.socket.destroy(new Error('the broker went silent'));
    } else send(connection, { cmd: 'pingreq' });
  }

  function onPublish(connection: Connection, packet: IPublishPacket): void {
    const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload;
    events.receive(
      { topic: packet.topic, payload, retain: packet.retain, owner: connection },
      acknowledging(connection, packet.qos > 0 ? packet.messageId : undefined),
    );
  }

  const acknowledging =
    (connection: Connection, messageId: number | undefined) =>
    (stored: boolean): void => {
      if (!stored)
        connection.socket.destroy(new Error('more came than can be held while nothing can be stored'));
      else if (messageId !== undefined) acknowledge(connection, messageId);
    };

  function onOversized(connection: Connection, { publish: message, bytes }: Oversized): void {
    if (!message || message.qos > 1) {
      connection.socket.destroy(new Error(`a packet of ${String(bytes)} bytes is too large`));
      return;
    }
    const { topic, head, payloadBytes, messageId } = message;
    const refuse = `the message has ${String(payloadBytes)} bytes; at most ${String(limits.maxPacketBytes)} are taken`;
    events.receive(
      { topic, payload: head, payloadBytes, retain: false, refuse, owner: connection },
      acknowledging(connection, messageId),
    );
  }

  function onPacket(connection: Connection, packet: Packet): void {
    if (packet.cmd === 'connack') onConnack(connection, packet);
    else if (packet.cmd === 'publish') onPublish(connection, packet);
    else if (packet.cmd === 'puback') {
      waiting.get(packet.messageId ?? 0)?.resolve();
      waiting.delete(packet.messageId ?? 0);
    } else if (packet.cmd === 'suback') {
      const codes: readonly unknown[] = packet.granted;
      const refused = codes.some((code) => typeof code === 'number' && code >= 0x80);
      if (refused) events.onWarning('The broker refused a subscription; give this user the right to read');
    } else if (packet.cmd === 'disconnect') connection.socket.destroy(new Error('the broker said goodbye'));
  }

  function open(): void {
    const socket: Socket = secure
      ? connectTls({ host, port, servername: host, ...(options.ca === undefined ? {} : { ca: options.ca }) })
      : connectTcp({ host, port });
    const connection: Connection = {
      socket,
      version,
      greeted: false,
      ready: false,
      acks: [],
      lastHeardMs: performance.now(),
      pings: undefined,
    };
    current = connection;
    socket.setNoDelay(true);
    const parser = mqttPacket.parser({ protocolVersion: connection.version });
    parser.on('packet', (packet: Packet) => {
      onPacket(connection, packet);
    });
    parser.on('error', (error: Error) => {
      socket.destroy(error);
    });
    const guard = frameGuard(
      limits.maxPacketBytes,
      () => connection.version === 5,
      (packet) => {
        onOversized(connection, packet);
      },
    );
    let reason = 'the connection was closed';
    socket.on(secure ? 'secureConnect' : 'connect', () => {
      hello(connection);
    });
    socket.on('data', (chunk: Buffer) => {
      connection.lastHeardMs = performance.now();
      const passed = guard.pass(chunk);
      if (passed.length > 0) parser.parse(passed);
    });
    socket.on('error', (error) => {
      reason = error.message;
    });
    socket.on('close', () => {
      onClose(connection, reason);
    });
  }

  function onClose(connection: Connection, reason: string): void {
    clearInterval(connection.pings);
    current = undefined;
    for (const { reject } of waiting.values()) reject(new Error(`The broker is not connected: ${reason}.`));
    waiting.clear();
    // They come again on the next connection.
    events.forget(connection);
    if (stopped) return;
    // Some brokers just hang up on a version that they don't speak.
    if (connection.greeted && !connection.ready) version = connection.version === 5 ? 4 : 5;
    events.onDisconnected(`The broker ${host}:${String(port)} is not connected: ${reason}. Trying again.`);
    retry = setTimeout(open, pauseMs);
    pauseMs = Math.min(limits.maxReconnectMs, Math.max(limits.reconnectMs, pauseMs * 2));
  }

  function publish(
    topic: string,
    payload: string | Uint8Array,
    { retain }: { retain: boolean },
  ): Promise<void> {
    return new Promise((resolve, reject) => {
      if (!current?.ready) {
        reject(new Error(`The broker ${host}:${String(port)} is not connected.`));
        return;
      }
      const messageId = newId();
      waiting.set(messageId, { resolve, reject });
      send(current, {
        cmd: 'publish',
        topic,
        payload: Buffer.from(payload),
        qos: 1,
        retain,
        dup: false,
        messageId,
      });
    });
  }

  open();
  return {
    address: { host, port },
    publish,
    setFilters(next) {
      const added = next.filter((filter) => !filters.includes(filter));
      filters = [...new Set([...standardFilters, ...next])];
      if (current?.ready && added.length > 0) subscribe(current);
    },
    setDevices: () => undefined,
    async stop() {
      stopped = true;
      clearTimeout(retry);
      const connection = current;
      if (!connection) return;
      const closed = new Promise((resolve) => connection.socket.once('close', resolve));
      if (connection.ready) {
        await publish(onlineTopic, 'false', { retain: true }).catch(() => undefined);
        send(connection, { cmd: 'disconnect' });
      }
      connection.socket.end();
      const late = setTimeout(() => connection.socket.destroy(), 1000);
      await closed;
      clearTimeout(late);
    },
  };
}
