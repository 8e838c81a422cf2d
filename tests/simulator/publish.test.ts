/** The publisher against a real broker: acknowledged means that the broker took it, in order, in either format. */
import { createServer, type AddressInfo } from 'node:net';
import { Aedes } from 'aedes';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { simulateNuc } from '../../simulator/index.ts';
import { messagesByArrival, wireNames, type SimMessage } from '../../simulator/sending/messages.ts';
import { openPublisher } from '../../simulator/sending/publish.ts';

interface Broker {
  readonly url: string;
  readonly taken: { topic: string; payload: string; qos: number }[];
  /** Most publishes that were ever inside the broker at once, not yet acknowledged. */
  mostWaiting: number;
  delayMs: number;
  close(): Promise<void>;
}

async function startBroker(): Promise<Broker> {
  const aedes = await Aedes.createBroker();
  const server = createServer(aedes.handle);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  let waiting = 0;
  const broker: Broker = {
    url: `mqtt://127.0.0.1:${String(port)}`,
    taken: [],
    mostWaiting: 0,
    delayMs: 0,
    close: async () => {
      await new Promise<void>((resolve) => aedes.close(resolve));
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
  aedes.authorizePublish = (_client, packet, done) => {
    broker.taken.push({ topic: packet.topic, payload: packet.payload.toString(), qos: packet.qos });
    waiting++;
    broker.mostWaiting = Math.max(broker.mostWaiting, waiting);
    const finish = () => {
      waiting--;
      done(null);
    };
    if (broker.delayMs > 0) setTimeout(finish, broker.delayMs);
    else finish();
  };
  return broker;
}

let broker: Broker;
beforeEach(async () => {
  broker = await startBroker();
});
afterEach(() => broker.close());

const someMessages = (count: number): SimMessage[] =>
  messagesByArrival(simulateNuc({ seed: 1, days: 1, everyMinutes: 5 }), wireNames('hive-1', 'sky-1')).slice(
    0,
    count,
  );

describe('publishing', () => {
  it('sends every reading once, in order, with QoS 1, value, time and unit', async () => {
    const messages = someMessages(400);
    const publisher = await openPublisher({ url: broker.url });
    const acknowledged = await publisher.publish(messages);
    await publisher.close();
    expect(acknowledged).toBe(400);
    expect(broker.taken.every(({ qos }) => qos === 1)).toBe(true);
    const told = broker.taken.map(({ topic, payload }) => ({ topic, ...(JSON.parse(payload) as object) }));
    expect(told).toEqual(
      messages.map(({ sensor, quantity, probe, value, unit, stampedAtMs }) => ({
        topic: `welcomb/${sensor}/${quantity}${probe ? `/${probe}` : ''}`,
        value,
        unit,
        time: new Date(stampedAtMs).toISOString(),
      })),
    );
  });

  it('keeps no more in flight than told', async () => {
    broker.delayMs = 5;
    const publisher = await openPublisher({ url: broker.url });
    expect(await publisher.publish(someMessages(100), { inFlight: 7 })).toBe(100);
    await publisher.close();
    expect(broker.mostWaiting).toBeLessThanOrEqual(7);
    expect(broker.mostWaiting).toBeGreaterThan(1);
  });

  it('packs the readings that a device sends together as SenML', async () => {
    const messages = someMessages(60);
    const publisher = await openPublisher({ url: broker.url });
    await publisher.publish(messages, { format: 'senml' });
    await publisher.close();
    expect(broker.taken.length).toBeLessThan(60);
    const values = broker.taken
      .flatMap(({ payload }) => JSON.parse(payload) as { v: number }[])
      .map(({ v }) => v);
    expect(values).toEqual(messages.map(({ value }) => value));
    expect(new Set(broker.taken.map(({ topic }) => topic))).toEqual(
      new Set(['welcomb/hive-1', 'welcomb/sky-1']),
    );
  });

  it('goes by the simulated clock at a factor, and stops when told', async () => {
    const [first] = someMessages(1);
    const everySimulatedSecond = Array.from({ length: 1000 }, (_, i) => ({
      ...first!,
      atMs: i * 1000,
    }));
    const stop = new AbortController();
    const publisher = await openPublisher({ url: broker.url });
    const done = publisher.publish(everySimulatedSecond, {
      pace: { kind: 'by-the-clock', factor: 100, startMs: 0 },
      signal: stop.signal,
    });
    await expect.poll(() => broker.taken.length).toBeGreaterThan(3);
    stop.abort();
    const acknowledged = await done;
    await publisher.close();
    expect(acknowledged).toBe(broker.taken.length);
    expect(acknowledged).toBeLessThan(1000);
  });

  it('sends a SenML pack at its time by the clock, not with the next one', async () => {
    const [first] = someMessages(1);
    if (!first) throw new Error('no message');
    const anHourLater = { ...first, atMs: first.atMs + 3_600_000 };
    const stop = new AbortController();
    const publisher = await openPublisher({ url: broker.url });
    const done = publisher.publish([first, anHourLater], {
      pace: { kind: 'by-the-clock', factor: 1, startMs: first.atMs },
      format: 'senml',
      signal: stop.signal,
    });
    try {
      await expect.poll(() => broker.taken.length, { timeout: 5_000 }).toBe(1);
    } finally {
      stop.abort();
      await done;
      await publisher.close();
    }
  });

  it('says where nobody answers', async () => {
    await expect(openPublisher({ url: 'mqtt://127.0.0.1:9' })).rejects.toThrow(
      'no MQTT broker answers at mqtt://127.0.0.1:9',
    );
  });
});
