/** An ingest with the embedded broker on a free port, and clients of it; all of it ends with each test of the file. */
import mqtt, { type IClientOptions, type MqttClient } from 'mqtt';
import { afterEach } from 'vitest';
import type { DeviceDirectory } from '../../../ingest/broker/authenticator.ts';
import { startIngest, type Ingest, type IngestOptions } from '../../../ingest/ingest.ts';
import { memoryPort } from './memory-port.ts';

const nobody: DeviceDirectory = { devices: [], isPassword: () => Promise.resolve(false) };

/** Called once at the top of a file. */
export function embeddedIngests() {
  const ingests: Ingest[] = [];
  const clients: MqttClient[] = [];
  afterEach(async () => {
    for (const client of clients.splice(0)) await client.endAsync(true);
    for (const ingest of ingests.splice(0)) await ingest.stop();
  });
  return {
    async start(devices = nobody, limits: IngestOptions['limits'] = {}) {
      const port = memoryPort();
      const warnings: string[] = [];
      const names: string[] = [];
      const note = (_details: object, sentence: string): void => void warnings.push(sentence);
      const ingest = await startIngest({
        port,
        broker: { kind: 'embedded', host: '127.0.0.1', port: 0, devices, allowAnonymous: true },
        clock: Date.now,
        logger: { info: () => undefined, warn: note, error: note },
        onDevice: (name) => names.push(name),
        limits,
      });
      ingests.push(ingest);
      return { port, ingest, warnings, names };
    },
    /** Not connected yet; for who has to listen before that. */
    client(ingest: Ingest, options: IClientOptions = {}): MqttClient {
      const url = `mqtt://127.0.0.1:${String(ingest.address.port)}`;
      const client = mqtt.connect(url, { reconnectPeriod: 0, ...options });
      clients.push(client);
      return client;
    },
    async connect(ingest: Ingest, options: IClientOptions = {}): Promise<MqttClient> {
      const url = `mqtt://127.0.0.1:${String(ingest.address.port)}`;
      const client = await mqtt.connectAsync(url, { reconnectPeriod: 0, ...options });
      clients.push(client);
      return client;
    },
  };
}
