/**
 * A device that does what QoS 1 asks of it: it keeps every reading until it is acknowledged, connects again by itself
 * and then sends all that is open once more. Full speed, with a window of open readings.
 */
import { connect, type Socket } from 'node:net';
import mqttPacket, { type IPublishPacket, type Packet } from 'mqtt-packet';

export interface Publisher {
  readonly acknowledged: ReadonlySet<number>;
  sent(): number;
  /** Sends nothing new; resolves when everything sent is acknowledged. */
  finish(): Promise<void>;
}

const inFlight = 100;
const reconnectMs = 20;

export function startPublisher(
  port: number,
  message: (index: number) => { readonly topic: string; readonly payload: string },
): Publisher {
  const acknowledged = new Set<number>();
  /** By packet identifier. */
  const open = new Map<number, number>();
  let sent = 0;
  let finishing: (() => void) | undefined;
  let ended = false;

  const packet = (index: number, dup: boolean): IPublishPacket => ({
    cmd: 'publish',
    ...message(index),
    qos: 1,
    dup,
    retain: false,
    messageId: (index % 65_535) + 1,
  });

  function fill(socket: Socket): void {
    socket.cork();
    while (open.size < inFlight && !finishing) {
      open.set((sent % 65_535) + 1, sent);
      socket.write(mqttPacket.generate(packet(sent, false)));
      sent += 1;
    }
    socket.uncork();
    if (finishing && open.size === 0) {
      ended = true;
      socket.end();
      finishing();
    }
  }

  function onPacket(socket: Socket, { cmd, messageId = 0 }: Packet): void {
    if (cmd === 'connack') {
      for (const index of open.values()) socket.write(mqttPacket.generate(packet(index, true)));
      fill(socket);
    } else if (cmd === 'puback') {
      const index = open.get(messageId);
      if (index === undefined) return;
      open.delete(messageId);
      acknowledged.add(index);
      if (open.size < inFlight / 2 || finishing) fill(socket);
    }
  }

  function start(): void {
    const socket = connect(port, '127.0.0.1');
    const parser = mqttPacket.parser({ protocolVersion: 4 });
    parser.on('packet', (received: Packet) => {
      onPacket(socket, received);
    });
    socket.on('connect', () => {
      socket.write(
        mqttPacket.generate({
          cmd: 'connect',
          protocolVersion: 4,
          clientId: 'soak',
          clean: false,
          keepalive: 0,
        }),
      );
    });
    socket.on('data', (chunk: Buffer) => parser.parse(chunk));
    socket.on('error', () => undefined);
    socket.on('close', () => {
      if (!ended) setTimeout(start, reconnectMs);
    });
  }
  start();

  return {
    acknowledged,
    sent: () => sent,
    // The next acknowledgement notices; there is always one to come, because the window is never empty.
    finish: () =>
      new Promise((resolve) => {
        finishing = resolve;
      }),
  };
}
