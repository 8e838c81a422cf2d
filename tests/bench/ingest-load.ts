/**
 * Publishers for the bench, as a child process: `mqttjs` clients or `raw` sockets with ready-made packets. Each sends
 * its share of numbered readings at QoS 1 with a window of unacknowledged ones; prints the seconds when all are
 * acknowledged.
 */
import { once } from 'node:events';
import { connect } from 'node:net';
import mqtt from 'mqtt';
import mqttPacket from 'mqtt-packet';

const [kind = 'mqttjs', port = '1883', publishers = '1', total = '10000'] = process.argv.slice(2);
const count = Number(publishers);
const share = Math.floor(Number(total) / count);
const windowSize = Math.max(20, Math.floor(2000 / count));
const firstMs = Date.parse('2026-01-01T00:00:00Z') + (Number(process.argv[6] ?? 0) || 0);
const stepMs = Number(process.argv[7] ?? 1000);
const payloadOf = (index: number): string =>
  `{"value":${String(10 + (index % 4000) / 1000)},"time":${String(firstMs + index * stepMs)}}`;
const sensor = process.argv[8] ?? 'scale-';
/** The first of this process, where several share the publishers. */
const firstWho = Number(process.argv[9] ?? 0);
const topicOf = (who: number): string => `welcomb/${sensor}${String(who)}/weight`;

async function byMqttJs(who: number): Promise<() => Promise<void>> {
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, { protocolVersion: 4 });
  return () =>
    new Promise<void>((resolve, reject) => {
      let sent = 0;
      let acknowledged = 0;
      const next = (): void => {
        if (sent >= share) return;
        client.publish(topicOf(who), payloadOf(sent), { qos: 1 }, (error) => {
          if (error) reject(error);
          acknowledged += 1;
          if (acknowledged === share) {
            client.end(true);
            resolve();
          } else next();
        });
        sent += 1;
      };
      for (let index = 0; index < windowSize; index += 1) next();
    });
}

async function byRawSocket(who: number): Promise<() => Promise<void>> {
  const socket = connect(Number(port), '127.0.0.1');
  await once(socket, 'connect');
  socket.write(
    mqttPacket.generate({ cmd: 'connect', clientId: `raw-${String(who)}`, keepalive: 0, clean: true }),
  );
  await once(socket, 'data');
  const packetOf = (index: number): Buffer =>
    mqttPacket.generate({
      cmd: 'publish',
      topic: topicOf(who),
      payload: payloadOf(index),
      qos: 1,
      dup: false,
      retain: false,
      messageId: (index % 65_535) + 1,
    });
  // Ready-made, as long as they fit into memory.
  const packets =
    share * count > 1_000_000 ? undefined : Array.from({ length: share }, (_, index) => packetOf(index));
  const slice = (from: number, to: number): Buffer[] =>
    packets?.slice(from, to) ?? Array.from({ length: to - from }, (_, at) => packetOf(from + at));
  return () =>
    new Promise<void>((resolve, reject) => {
      let sent = 0;
      let bytes = 0;
      const fill = (): void => {
        const upTo = Math.min(share, Math.floor(bytes / 4) + windowSize);
        if (sent < upTo) socket.write(Buffer.concat(slice(sent, upTo)));
        sent = Math.max(sent, upTo);
      };
      socket.on('error', reject);
      socket.on('data', (chunk: Buffer) => {
        bytes += chunk.length;
        if (bytes >= share * 4) {
          socket.destroy();
          resolve();
        } else fill();
      });
      fill();
    });
}

const ready = await Promise.all(
  Array.from({ length: count }, (_, at) => (kind === 'raw' ? byRawSocket : byMqttJs)(firstWho + at)),
);
console.log('ready now');
// Several processes begin together.
await once(process.stdin, 'data');
const started = performance.now();
await Promise.all(ready.map((run) => run()));
console.log(`seconds ${String((performance.now() - started) / 1000)}`);
process.exit(0);
