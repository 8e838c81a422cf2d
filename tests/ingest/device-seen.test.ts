/** A device that can't be noted as seen is let in all the same: the note is only for the page. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import mqtt from 'mqtt';
import { pino } from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { hashPassword } from '../../server/farm/password.ts';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';
import { openStore } from '../../server/store/store.ts';

const data = mkdtempSync(join(tmpdir(), 'welcomb-device-seen-'));
const lines: string[] = [];
let running: Running;

beforeAll(async () => {
  const store = openStore({ file: join(data, 'welcomb.db') });
  const passwordHash = await hashPassword('propolis-14');
  store.devices.add({ name: 'scale-1', passwordHash, ownTopicsOnly: true, createdAtMs: Date.now() });
  store.close();
  const parsed = parseSettings(
    ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'],
    {},
    () => '',
  );
  if (!parsed.ok) throw new Error(parsed.message);
  const stream = { write: (line: string) => void lines.push(line) };
  running = await runServer(parsed.settings, { log: pino({ level: 'warn' }, stream) });
}, 60_000);

afterAll(async () => {
  await running.stop();
  rmSync(data, { recursive: true, force: true });
});

it('connects, and the log says what failed', async () => {
  running.store.devices.seen = () => {
    throw new TypeError('made to fail');
  };
  const client = await mqtt.connectAsync(running.mqtt, {
    username: 'scale-1',
    password: 'propolis-14',
    reconnectPeriod: 0,
  });
  await client.publishAsync('welcomb/scale-1/weight', '21.4', { qos: 1 });
  await client.endAsync();
  expect(running.store.ingest.counters().stored).toBe(1);
  expect(lines.join('')).toContain('made to fail');
});
