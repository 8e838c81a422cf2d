/**
 * The embedded broker. The commit happens inside the broker's own decision whether a publish is allowed, because only
 * that withholds the PUBACK; so an acknowledged reading is a stored one.
 */
import { createServer, type AddressInfo, type Server, type Socket } from 'node:net';
import { createServer as createTlsServer } from 'node:tls';
import { Aedes, type AuthenticateError, type Client, type PublishPacket } from 'aedes';
import { serverRoot } from '../decode/own-topics.ts';
import { frameGuard, type Oversized } from './frame-guard.ts';
import { pace, type Pace } from './pace.ts';
import { shortWay, type ShortWay } from './short-way.ts';
import { isOwnTopic, makeDoor, type Device, type DeviceDirectory } from './devices.ts';
import type { Link, LinkEvents } from './link.ts';

export interface EmbeddedBroker {
  readonly kind: 'embedded';
  readonly host: string;
  /** 0: any free port. */
  readonly port: number;
  /** PEM texts. */
  readonly tls?: { readonly key: string; readonly cert: string };
  readonly devices: DeviceDirectory;
  /** Nameless clients from this machine, until the first device is made. */
  readonly allowAnonymous: boolean;
}

export interface ConnectionLimits {
  readonly maxConnections: number;
  readonly maxPacketBytes: number;
  /** Sustained; a connection that sends faster is read more slowly. */
  readonly messagesPerSecond: number;
  readonly burst: number;
}

const sysTopic = '$SYS/';
const belowServerRoot = `${serverRoot}/`;
/** Where messages beyond a device's rights go after they were quarantined: to no subscriber. */
const nowhere = `${serverRoot}/refused`;

function whyBeyondRights(device: Device | undefined, topic: string): string | undefined {
  if (topic.startsWith(belowServerRoot)) return `only the server publishes below ${serverRoot}`;
  if (!device?.ownTopicsOnly || isOwnTopic(device, topic)) return undefined;
  return `the device "${device.name}" may publish only below welcomb/${device.name}`;
}

function refusal(reason: string): AuthenticateError {
  // 5: not authorised (MQTT 3.1.1 §3.2.2.3).
  return Object.assign(new Error(reason), { returnCode: 5 as AuthenticateError['returnCode'] });
}

/** The broker notes it at the connection. */
const clientOf = (socket: Socket): Client | undefined => (socket as Socket & { client?: Client }).client;
const remoteAddress = (client: Client): string => (client.conn as Socket).remoteAddress ?? '';

export async function startEmbedded(
  options: EmbeddedBroker,
  limits: ConnectionLimits,
  events: LinkEvents,
  clock: () => number,
): Promise<Link> {
  const door = makeDoor(options.devices, options.allowAnonymous, clock);
  const owners = new WeakMap<Client, Device>();
  const connected = new Set<Client>();
  const ready = new WeakSet<Client>();
  const shortWays = new WeakMap<Socket, ShortWay>();
  /** Somebody has subscribed since the start; a session without a connection may want messages too. */
  let anySubscriber = false;
  /** How fast each connection may send. */
  const paces = new WeakMap<object, Pace>();

  function receive(client: Client | null, packet: PublishPacket, done: (error?: Error | null) => void): void {
    const { topic, payload } = packet;
    // Replacing the hook drops the broker's own refusal: say it again.
    if (topic.startsWith(sysTopic)) {
      done(new Error(`${sysTopic} is reserved`));
      return;
    }
    const refuse = whyBeyondRights(client ? owners.get(client) : undefined, topic);
    const bytes = typeof payload === 'string' ? Buffer.from(payload) : payload;
    const waitMs = (client && paces.get(client.conn)?.next(clock())) ?? 0;
    events.receive({ topic, payload: bytes, retain: false, refuse }, (stored) => {
      if (!stored) {
        done(new Error('nothing can be stored; keep the message and send it again'));
        return;
      }
      if (refuse !== undefined) {
        packet.topic = nowhere;
        packet.retain = false;
      }
      // Acknowledgements leave in the order in which their messages came.
      if (client) shortWays.get(client.conn as Socket)?.flush();
      if (waitMs < 1) done(null);
      else setTimeout(done, waitMs, null);
    });
  }

  /** The broker gathers a whole packet before anybody can refuse it; so it never gets to see one that is too large. */
  function guard(socket: Socket): void {
    const frames = frameGuard(
      limits.maxPacketBytes,
      () => false,
      (packet) => {
        refuseOversized(socket, packet);
      },
    );
    const own = pace(limits.messagesPerSecond, limits.burst);
    paces.set(socket, own);
    const short = shortWay(socket, {
      isOpen() {
        const client = clientOf(socket);
        return !anySubscriber && client !== undefined && ready.has(client);
      },
      waitMs: () => own.next(clock()),
      receive({ topic, payload }, settled) {
        const client = clientOf(socket);
        const refuse = whyBeyondRights(client && owners.get(client), topic);
        events.receive({ topic, payload, retain: false, refuse }, settled);
      },
    });
    shortWays.set(socket, short);
    const readRaw = socket.read.bind(socket);
    socket.read = (size?: number): unknown => {
      if (short.isBusy()) return null;
      const chunk: unknown = readRaw(size);
      if (!Buffer.isBuffer(chunk)) return chunk;
      const passed = short.pass(frames.pass(chunk));
      return passed.length > 0 ? passed : null;
    };
  }

  function refuseOversized(socket: Socket, { publish: message, bytes }: Oversized): void {
    const client = clientOf(socket);
    if (!message || message.qos > 1 || client?.connected !== true) {
      events.onWarning(`Connection closed: a packet of ${String(bytes)} bytes is too large.`);
      socket.destroy();
      return;
    }
    const { topic, head, payloadBytes, messageId } = message;
    const refuse = `the message has ${String(payloadBytes)} bytes; at most ${String(limits.maxPacketBytes)} are taken`;
    events.receive({ topic, payload: head, payloadBytes, retain: false, refuse }, (stored) => {
      if (!stored) socket.destroy();
      else if (messageId !== undefined && socket.writable) {
        socket.write(Buffer.from([0x40, 2, messageId >> 8, messageId & 0xff]));
      }
    });
  }

  const broker = await Aedes.createBroker({
    authenticate(client, username, password, done) {
      door.admit(username, password, remoteAddress(client)).then(
        (admission) => {
          if (!admission.ok) {
            events.onWarning(`A device was turned away: ${admission.reason}.`);
            done(refusal(admission.reason), false);
            return;
          }
          const { device } = admission;
          if (device) {
            owners.set(client, device);
            events.onDevice(device.name);
          }
          done(null, true);
        },
        (error: unknown) => {
          events.onWarning(`A device was turned away: ${String(error)}.`);
          done(refusal('its password could not be checked'), false);
        },
      );
    },
    authorizePublish: receive,
    authorizeSubscribe(client, subscription, done) {
      const device = owners.get(client);
      const allowed = !device?.ownTopicsOnly || isOwnTopic(device, subscription.topic);
      anySubscriber ||= allowed;
      done(null, allowed ? subscription : null);
    },
  });
  const distribute = broker.publish.bind(broker);
  // On most farms nobody but the server listens: then there is nothing to look up, queue or forward for each reading.
  broker.publish = (packet: PublishPacket, client?: unknown, done?: unknown): void => {
    if (anySubscriber || packet.retain || typeof done !== 'function') {
      (distribute as (...all: unknown[]) => void)(packet, client, done);
    } else (done as () => void)();
  };
  const closeUnlessStillIn = (client: Client): void => {
    if (!door.isStillIn(owners.get(client))) client.close();
  };
  broker.on('client', (client) => {
    connected.add(client);
    closeUnlessStillIn(client);
  });
  // Only now is what came before its CONNACK handed on.
  broker.on('clientReady', (client) => {
    ready.add(client);
  });
  broker.on('clientDisconnect', (client) => {
    connected.delete(client);
  });
  broker.on('clientError', (client, error) => {
    events.onWarning(`Connection of "${client.id}" closed: ${error.message}.`);
  });
  broker.on('connectionError', (_client, error) => {
    events.onWarning(`Connection closed before it was one: ${error.message}.`);
  });

  const accept = (socket: Socket): void => {
    socket.setNoDelay(true);
    guard(socket);
    broker.handle(socket);
  };
  const server: Server = options.tls ? tlsServer(options.tls, accept) : createServer(accept);
  server.maxConnections = limits.maxConnections;
  server.on('drop', () => {
    events.onWarning(`A connection was refused: ${String(limits.maxConnections)} are open already.`);
  });
  await listen(server, options);
  events.onConnected();

  return {
    address: { host: options.host, port: (server.address() as AddressInfo).port },
    publish: (topic, payload, { retain }) =>
      new Promise((resolve, reject) => {
        broker.publish(
          { cmd: 'publish', topic, payload: Buffer.from(payload), qos: 0, retain, dup: false },
          (error) => {
            if (error) reject(error);
            else resolve();
          },
        );
      }),
    setFilters: () => undefined,
    setDevices: (devices) => {
      door.setDevices(devices);
      for (const client of connected) closeUnlessStillIn(client);
    },
    async stop() {
      await new Promise<void>((resolve) => {
        broker.close(resolve);
      });
      await new Promise<void>((resolve) => {
        server.close(() => {
          resolve();
        });
      });
    },
  };
}

function tlsServer(pem: { key: string; cert: string }, accept: (socket: Socket) => void): Server {
  try {
    return createTlsServer({ ...pem, minVersion: 'TLSv1.2' }, accept);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new Error(`The certificate and key of "mqttTls" don't work together: ${why}.`, { cause: error });
  }
}

async function listen(server: Server, { host, port }: EmbeddedBroker): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    const fail = (error: NodeJS.ErrnoException): void => {
      const why = error.code === 'EADDRINUSE' ? 'the port is in use' : error.message;
      reject(
        new Error(
          `The embedded broker can't listen on ${host}:${String(port)}: ${why}. Choose another with --mqtt.`,
        ),
      );
    };
    server.once('error', fail);
    server.listen(port, host, () => {
      server.off('error', fail);
      resolve();
    });
  });
}
