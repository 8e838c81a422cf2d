/**
 * What we publish for home hubs lies on the same broker as the sensors. A broker of the keeper's that sends it back,
 * also what it retained of an earlier run, must not make sensors of our own nucs.
 */
import mqtt from 'mqtt';
import { describe, expect, it } from 'vitest';
import { startIngest } from '../../ingest/ingest.ts';
import { discoveryOf, stateOf } from '../../server/notify/mqtt.ts';
import { readRecipient } from '../../server/notify/recipient.ts';
import { memoryPort } from '../ingest/support/memory-port.ts';
import { listener } from '../ingest/support/messages.ts';
import { startMosquitto } from '../ingest/support/mosquitto.ts';
import { until } from '../ingest/support/until.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { recipient } from './made-up.ts';

/** A name in which a quantity can be read. */
const nuc = {
  id: 'weight-7',
  name: 'Nuc 7',
  siteName: 'Hill',
  timeZone: 'Europe/Berlin',
  stage: 'caged, day 8',
};
const { display } = recipient();
const messages = [
  ...discoveryOf('welcomb-status', 'homeassistant', nuc),
  stateOf('welcomb-status', nuc, [], display),
];
const quiet = { info: () => undefined, warn: () => undefined, error: () => undefined };

describe('our own messages', () => {
  it('announce no sensor when they come back', () => {
    const hears = listener();
    for (const { topic, payload } of discoveryOf('welcomb-status', 'homeassistant', nuc)) {
      if (!topic.includes('/sensor/')) continue;
      const { decoded, learned } = hears(topic, payload, { retain: true });
      expect(learned.filter((one) => one.kind === 'announced' && one.sensor !== undefined)).toEqual([]);
      expect(decoded.quarantine).toBeUndefined();
    }
  });

  it('are not published among the sensors’ topics', () => {
    const read = (address: string) =>
      readRecipient(
        { id: 'hub', name: 'Hub', kind: 'mqtt', enabled: true, urgencies: ['now'], address },
        null,
        display,
      );
    for (const address of ['welcomb', 'welcomb/status', 'homie/x'])
      expect(read(address)).toMatchObject({
        ok: false,
        problem: expect.stringContaining('sensors') as string,
      });
    for (const address of ['', 'welcomb-status', 'home/bees'])
      expect(read(address)).toMatchObject({ ok: true });
  });

  it.skipIf(missing('mosquitto', mosquitto))(
    'are left alone on a shared broker that kept them over a restart',
    async () => {
      const broker = await startMosquitto(true);
      const client = await mqtt.connectAsync(broker.url);
      for (const { topic, payload } of messages)
        await client.publishAsync(topic, payload, { qos: 1, retain: true });
      const port = memoryPort();
      const ingest = await startIngest({
        port,
        broker: { kind: 'outside', url: broker.url, clientId: 'welcomb-echo' },
        clock: Date.now,
        logger: quiet,
      });
      try {
        await until(() => ingest.status().connected);
        for (const { topic, payload } of messages) await ingest.publish(topic, payload, { retain: true });
        // A reading of a real sensor comes after all of them: then they have been looked at.
        await client.publishAsync('welcomb/scale-1/weight', '10.5', { qos: 1 });
        await until(() => port.batches.some(({ readings }) => readings.length > 0));
        expect(port.batches.flatMap(({ readings }) => readings.map(({ sensor }) => sensor))).toEqual([
          'scale-1',
        ]);
        expect(port.batches.flatMap(({ quarantined }) => quarantined)).toEqual([]);
        expect(JSON.stringify(port.batches)).not.toContain('weight-7');
      } finally {
        await client.endAsync(true);
        await ingest.stop();
        await broker.remove();
      }
    },
  );
});
