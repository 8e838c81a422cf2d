/** A home hub that follows the discovery messages sees the server go, with either broker. */
import mqtt, { type MqttClient } from 'mqtt';
import { afterEach, expect, test } from 'vitest';
import { startIngest } from '../../ingest/ingest.ts';
import { discoveryOf } from '../../server/notify/mqtt.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { embeddedIngests } from './support/embedded-ingest.ts';
import { memoryPort } from './support/memory-port.ts';
import { startMosquitto } from './support/mosquitto.ts';
import { until } from './support/until.ts';

const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };
const embedded = embeddedIngests();
const ends: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const nuc = { id: 'n1', name: 'Nuc 1', siteName: 'Hill', timeZone: 'Europe/Berlin', stage: 'caged, day 8' };

/** What the hub shows of a nuc over time: the discovery message says where to listen and what to understand by it. */
async function shownBy(hub: MqttClient): Promise<string[]> {
  const [entity] = discoveryOf('w', 'hub', nuc);
  const { availability_topic, payload_available, payload_not_available } = JSON.parse(
    entity?.payload ?? '',
  ) as Record<string, string>;
  const meanings: Record<string, string> = {
    [String(payload_available)]: 'available',
    [String(payload_not_available)]: 'unavailable',
  };
  const shown: string[] = [];
  hub.on('message', (_topic, payload) => shown.push(meanings[payload.toString()] ?? payload.toString()));
  await hub.subscribeAsync(String(availability_topic), { qos: 1 });
  return shown;
}

test('with the embedded broker on an orderly stop', async () => {
  const { ingest } = await embedded.start();
  const shown = await shownBy(await embedded.connect(ingest));
  await until(() => shown.length === 1);
  await ingest.stop();
  await until(() => shown.length === 2);
  expect(shown).toEqual(['available', 'unavailable']);
});

test.skipIf(missing('mosquitto', mosquitto))(
  'with an outside broker also where the server dies, and when it is back',
  async () => {
    const broker = await startMosquitto();
    ends.push(() => broker.remove());
    const clientId = 'welcomb-test';
    const ingest = await startIngest({
      port: memoryPort(),
      broker: { kind: 'outside', url: broker.url, clientId },
      clock: Date.now,
      logger: silent,
      limits: { reconnectMs: 50, maxReconnectMs: 100 },
    });
    ends.push(() => ingest.stop());
    await until(() => ingest.status().connected);
    const hub = await mqtt.connectAsync(broker.url);
    ends.push(() => hub.endAsync(true));
    const shown = await shownBy(hub);
    await until(() => shown.length === 1);
    // Whoever comes with the same client id ends the connection without a goodbye (MQTT 3.1.1 §3.1.4): so the will is published.
    const intruder = await mqtt.connectAsync(broker.url, { clientId, reconnectPeriod: 0 });
    ends.push(() => intruder.endAsync(true));
    await until(() => shown.length === 3);
    expect(shown).toEqual(['available', 'unavailable', 'available']);
  },
);
