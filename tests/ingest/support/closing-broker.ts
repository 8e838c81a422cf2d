/**
 * A broker of MQTT 3.1.1 on a free port that can do one thing to a client: close the connection, at once or when it
 * publishes. It holds one message for its subscriber, and sends it on each connection until it is acknowledged.
 */
import { createServer, type AddressInfo, type Socket } from 'node:net';
import mqttPacket, { type Packet } from 'mqtt-packet';

export interface ClosingBroker {
  readonly url: string;
  /** Connections that it accepted; those of other versions are not counted. */
  connections(): number;
  /** Open now. */
  open(): number;
  acknowledged(): boolean;
  /** From the end of each connection that it closed at once to the next that it accepted, ms. */
  pausesMs(): readonly number[];
  close(): Promise<void>;
}

export async function startClosingBroker(
  closes: 'at once' | 'on a publish' | 'never',
  message: { readonly topic: string; readonly payload: string } = {
    topic: 'welcomb/scale-1/weight',
    payload: '12.5',
  },
): Promise<ClosingBroker> {
  const sockets = new Set<Socket>();
  let accepted = 0;
  let acknowledged = false;
  let closedAtMs: number | undefined;
  const pausesMs: number[] = [];

  function onPacket(socket: Socket, packet: Packet): void {
    const send = (answer: Packet): void => void socket.write(mqttPacket.generate(answer));
    if (packet.cmd === 'connect' && packet.protocolVersion !== 4) {
      send({ cmd: 'connack', returnCode: 1, sessionPresent: false });
      socket.end();
    } else if (packet.cmd === 'connect') {
      accepted += 1;
      if (closedAtMs !== undefined) pausesMs.push(performance.now() - closedAtMs);
      send({ cmd: 'connack', returnCode: 0, sessionPresent: accepted > 1 });
      if (!acknowledged)
        send({ cmd: 'publish', ...message, qos: 1, messageId: 7, dup: accepted > 1, retain: false });
      if (closes === 'at once') {
        closedAtMs = performance.now();
        socket.end();
      }
    } else if (packet.cmd === 'subscribe')
      send({
        cmd: 'suback',
        messageId: packet.messageId ?? 0,
        granted: packet.subscriptions.map(() => 1),
      });
    else if (packet.cmd === 'publish' && closes === 'on a publish') socket.destroy();
    else if (packet.cmd === 'publish') send({ cmd: 'puback', messageId: packet.messageId ?? 0 });
    else if (packet.cmd === 'puback') acknowledged = true;
    else if (packet.cmd === 'pingreq') send({ cmd: 'pingresp' });
    else if (packet.cmd === 'disconnect') socket.end();
  }

  const server = createServer((socket) => {
    sockets.add(socket);
    const parser = mqttPacket.parser();
    parser.on('packet', (packet: Packet) => {
      if (!socket.destroyed) onPacket(socket, packet);
    });
    socket.on('data', (chunk: Buffer) => parser.parse(chunk));
    socket.on('error', () => undefined);
    socket.on('close', () => sockets.delete(socket));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `mqtt://127.0.0.1:${String((server.address() as AddressInfo).port)}`,
    connections: () => accepted,
    open: () => sockets.size,
    acknowledged: () => acknowledged,
    pausesMs: () => pausesMs,
    async close() {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
