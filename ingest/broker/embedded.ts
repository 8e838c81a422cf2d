/**
 * The embedded broker. The commit happens inside the broker's own decision whether a publish is allowed, because only
 * that withholds the PUBACK; so an acknowledged reading is a stored one.
 */
import type { AddressInfo, Socket } from 'node:net';
import { Aedes, type AuthenticateError, type Client, type ConnectPacket, type PublishPacket } from 'aedes';
import { shown } from '../decode/message.ts';
import { presence, serverRoot } from '../decode/own-topics.ts';
import { hasRoomFor, whyTooLarge } from './client-bounds.ts';
import { ConnectionCounter, defaultConnectionCaps } from './connection-counter.ts';
import { ConnectionLog } from './connection-log.ts';
import { Connection } from './connection.ts';
import { Authenticator, type Device } from './authenticator.ts';
import type { Oversized } from './frame-guard.ts';
import type { ConnectionLimits, EmbeddedBroker } from './embedded-options.ts';
import type { Link, LinkEvents } from './link.ts';
import { listenOn } from './listener.ts';
import { pace } from './pace.ts';
import { RetainedRoom, defaultRetainedLimits } from './retained.ts';
import { mayHear, whyNotPublish } from './rights.ts';
import { clientIdOf, Sessions, defaultSessionLimits } from './sessions.ts';

const sysTopic = '$SYS/';
/** Where messages beyond a device's rights go after they were quarantined: to no subscriber. */
const nowhere = `${serverRoot}/refused`;

/** How long a client may take to say CONNECT, and to take in what it is sent: others wait for it meanwhile. */
const connectTimeout = 10_000;
const drainTimeout = 5000;
/** Messages at QoS 2 that wait for their release, for each client. */
const maxInflightInbound = 100;
const expiryMs = 60_000;

type Done<T = void> = (error: Error | null, result?: T) => void;

/** Return codes of CONNACK (MQTT 3.1.1 §3.2.2.3). */
const serverUnavailable = 3;
const notAuthorised = 5;
const refusal = (reason: string, returnCode: number): AuthenticateError =>
  Object.assign(new Error(reason), { returnCode: returnCode as AuthenticateError['returnCode'] });

/** The acknowledgement of a QoS 1 message (MQTT 3.1.1 §3.4): type 4, two bytes follow, the packet identifier. */
const puback = (messageId: number): Buffer => Buffer.from([0x40, 2, messageId >> 8, messageId & 0xff]);

const connectionOf = (client: Client): Connection => client.conn as Connection;

class Broker {
  readonly #options: EmbeddedBroker;
  readonly #limits: ConnectionLimits;
  readonly #events: LinkEvents;
  readonly #clock: () => number;
  readonly #log: ConnectionLog;
  readonly #authenticator: Authenticator;
  readonly #counter = new ConnectionCounter(defaultConnectionCaps);
  readonly #sessions: Sessions;
  readonly #retained = new RetainedRoom(defaultRetainedLimits);
  readonly #clients = new Set<Client>();
  readonly #aedes: Aedes;

  constructor(options: EmbeddedBroker, limits: ConnectionLimits, events: LinkEvents, clock: () => number) {
    this.#options = options;
    this.#limits = limits;
    this.#events = events;
    this.#clock = clock;
    this.#log = new ConnectionLog((sentence) => {
      events.onWarning(sentence);
    }, clock);
    this.#authenticator = new Authenticator(options.devices, options.allowAnonymous, clock);
    this.#sessions = new Sessions(defaultSessionLimits, clock);
    this.#aedes = new Aedes({
      persistence: this.#sessions,
      connectTimeout,
      drainTimeout,
      maxInflightInbound,
      maxClientsIdLength: Infinity,
      preConnect: (client, packet, done) => {
        this.#preConnect(client, packet, done);
      },
      authenticate: (client, name, password, done) => {
        void this.#authenticate(client, name, password).then((error) => {
          done(error, error === null);
        });
      },
      authorizePublish: (client, packet, done) => {
        this.#authorizePublish(client, packet, done);
      },
      authorizeSubscribe: (client, subscription, done) => {
        done(null, this.#maySubscribe(client, subscription.topic) ? subscription : null);
      },
      authorizeForward: (client, packet) =>
        !client.closed && packet.topic !== nowhere && this.#mayHear(client, packet.topic) ? packet : null,
    });
  }

  async listen(): Promise<Link> {
    await this.#aedes.listen();
    this.#follow();
    const accept = (socket: Socket): void => {
      this.#accept(socket);
    };
    const server = await listenOn(this.#options, accept);
    server.maxConnections = this.#limits.maxConnections;
    server.on('drop', () => {
      this.#log.warn(`A connection was refused: ${String(this.#limits.maxConnections)} are open already.`);
    });
    const expiry = setInterval(() => void this.#sessions.expire(), expiryMs);
    await this.#tellPresence(presence.here);
    this.#events.onConnected();
    return {
      address: { host: this.#options.host, port: (server.address() as AddressInfo).port },
      publish: (topic, payload, { retain }) => this.#publish(topic, Buffer.from(payload), retain),
      setFilters: () => undefined,
      setDevices: (devices) => {
        this.#setDevices(devices);
      },
      stop: async () => {
        clearInterval(expiry);
        // Fails where it has been stopped already.
        await this.#tellPresence(presence.gone).catch(() => undefined);
        await new Promise<void>((resolve) => {
          this.#aedes.close(resolve);
        });
        await new Promise<void>((resolve) => {
          server.close(() => {
            resolve();
          });
        });
      },
    };
  }

  #accept(socket: Socket): void {
    const connection: Connection = new Connection(socket, {
      maxPacketBytes: this.#limits.maxPacketBytes,
      pace: pace(this.#limits.messagesPerSecond, this.#limits.burst),
      onOversized: (packet) => {
        this.#refuseOversized(connection, packet);
      },
    });
    const full = this.#counter.whyFull(connection.address);
    if (full !== undefined) {
      this.#log.warn(`A connection was refused: ${full}.`);
      connection.destroy();
      return;
    }
    socket.setNoDelay(true);
    this.#counter.add(connection);
    this.#aedes.handle(connection);
  }

  #follow(): void {
    this.#aedes.on('client', (client) => {
      this.#clients.add(client);
      if (!client.clean) this.#sessions.came(client.id);
      this.#closeUnlessAllowed(client);
    });
    this.#aedes.on('clientDisconnect', (client) => {
      this.#clients.delete(client);
      if (!client.clean) void this.#sessions.left(client.id);
    });
    this.#aedes.on('unsubscribe', (filters, client) => {
      for (const filter of filters) connectionOf(client).filters.delete(filter);
    });
    this.#aedes.on('clientError', (client, error) => {
      this.#log.warn(`Connection of "${shown(client.id)}" closed: ${shown(error.message)}.`);
    });
    this.#aedes.on('connectionError', (_client, error) => {
      this.#log.warn(`Connection closed before it was one: ${shown(error.message)}.`);
    });
  }

  #preConnect(
    _client: Client,
    packet: ConnectPacket,
    done: (error: Error | null, success: boolean) => void,
  ): void {
    const { clientId, username } = packet;
    const why = whyTooLarge(packet);
    if (why !== undefined) {
      done(new Error(why), false);
      return;
    }
    // The engine answers that it does not speak it, and says nothing to anybody else.
    if (packet.protocolVersion === 5)
      this.#log.warn(`A device was turned away: "${shown(clientId)}" uses MQTT 5; set it to 3.1.1.`);
    // An empty one is given a name of its own by the broker.
    if (clientId !== '') packet.clientId = clientIdOf(username, clientId);
    done(null, true);
  }

  /** Null: it may connect. */
  async #authenticate(
    client: Client,
    name: string | undefined,
    password: Uint8Array | undefined,
  ): Promise<AuthenticateError | null> {
    const connection = connectionOf(client);
    try {
      const authentication = await this.#authenticator.authenticate(name, password, connection.address);
      if (!authentication.ok) {
        this.#log.warn(`A device was turned away: ${authentication.reason}.`);
        return refusal(authentication.reason, notAuthorised);
      }
      connection.device = authentication.device;
      this.#counter.authenticated(connection);
      if (authentication.device) this.#events.onDevice(authentication.device.name);
      return null;
    } catch (error) {
      this.#log.warn(`A device was turned away: ${String(error)}.`);
      return refusal('its password could not be checked', serverUnavailable);
    }
  }

  #authorizePublish(client: Client | null, packet: PublishPacket, done: Done): void {
    const { topic } = packet;
    // Replacing the hook drops the broker's own refusal: say it again.
    if (topic.startsWith(sysTopic)) {
      done(new Error(`${sysTopic} is reserved`));
      return;
    }
    const connection = client ? connectionOf(client) : undefined;
    const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload;
    const refuse = whyNotPublish(connection?.device, topic);
    const waitMs = connection?.pace.next(this.#clock()) ?? 0;
    this.#events.receive({ topic, payload, retain: false, refuse }, (stored) => {
      if (!stored) {
        done(new Error('nothing can be stored; keep the message and send it again'));
        return;
      }
      if (refuse !== undefined) {
        packet.topic = nowhere;
        packet.retain = false;
      } else if (packet.retain) this.#retain(connection, packet, payload.length);
      if (waitMs < 1) done(null);
      else setTimeout(done, waitMs, null);
    });
  }

  #retain(connection: Connection | undefined, packet: PublishPacket, bytes: number): void {
    const owner = connection?.device?.name ?? '';
    if (this.#retained.claim(owner, packet.topic, bytes)) return;
    packet.retain = false;
    this.#log.warn(
      `"${shown(packet.topic)}" is not retained: "${shown(owner)}" has too much retained already.`,
    );
    this.#dropRetained(packet.topic);
  }

  #dropRetained(topic: string): void {
    void this.#publish(topic, Buffer.alloc(0), true);
  }

  #maySubscribe(client: Client, filter: string): boolean {
    const { filters } = connectionOf(client);
    if (!this.#mayHear(client, filter) || !hasRoomFor(filters, filter)) return false;
    filters.add(filter);
    return true;
  }

  #mayHear(client: Client, topic: string): boolean {
    return mayHear(connectionOf(client).device, topic);
  }

  /** The broker gathers a whole packet before anybody can refuse it; so it never gets to see one that is too large. */
  #refuseOversized(connection: Connection, { publish: message, bytes }: Oversized): void {
    if (!message || message.qos > 1 || !connection.isAuthenticated) {
      this.#log.warn(`Connection closed: a packet of ${String(bytes)} bytes is too large.`);
      connection.destroy();
      return;
    }
    const { topic, head, payloadBytes, messageId } = message;
    const most = String(this.#limits.maxPacketBytes);
    const refuse = `the message has ${String(payloadBytes)} bytes; at most ${most} are taken`;
    this.#events.receive({ topic, payload: head, payloadBytes, retain: false, refuse }, (stored) => {
      if (!stored) connection.destroy();
      else if (messageId !== undefined && connection.writable) {
        connection.write(puback(messageId));
      }
    });
  }

  #publish(topic: string, payload: Buffer, retain: boolean): Promise<void> {
    return new Promise((resolve, reject) => {
      this.#aedes.publish({ cmd: 'publish', topic, payload, qos: 0, retain, dup: false }, (error) => {
        if (error) reject(error);
        else resolve();
      });
    });
  }

  #tellPresence(payload: string): Promise<void> {
    return this.#publish(presence.topic, Buffer.from(payload), true);
  }

  #setDevices(devices: readonly Device[]): void {
    const gone = this.#authenticator.setDevices(devices);
    for (const client of this.#clients) this.#closeUnlessAllowed(client);
    for (const { name } of gone) {
      void this.#sessions.forgetOwner(name);
      for (const topic of this.#retained.take(name)) this.#dropRetained(topic);
    }
  }

  #closeUnlessAllowed(client: Client): void {
    if (!this.#authenticator.isStillAllowed(connectionOf(client).device)) client.close();
  }
}

export function startEmbedded(
  options: EmbeddedBroker,
  limits: ConnectionLimits,
  events: LinkEvents,
  clock: () => number,
): Promise<Link> {
  return new Broker(options, limits, events, clock).listen();
}
