/**
 * A disk that fills up, becomes read-only, or whose database another program holds, under the whole server: nothing
 * acknowledged that is not stored, one alert on the page, and everything there once it is mended, without anybody
 * touching the server.
 */
import { spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { connectAsync } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

const disk = newFolder();
const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=700m', 'tmpfs', disk]).status === 0;
if (!mounted) {
  dropFolder(disk);
  console.warn(
    'Skipped: this user may not mount a small disk, so a full one was not tried under the server.',
  );
}

const alertsOf = async (server: RunningServer) =>
  (await server.get<ResponseOf<'listAlerts'>>('/api/v1/alerts')).items;

/** Publishes while `broken`, sees no acknowledgement and one alert, mends, and finds all of it stored. */
async function expectOneAlert(data: string, breaks: () => void, mends: () => void, says: RegExp) {
  const server = await startServer({ data });
  undo.push(() => server.stop());
  const device = await connectAsync(server.mqtt);
  undo.push(() => device.endAsync(true));
  let acknowledged = 0;
  const publish = async (from: number, count: number): Promise<void> => {
    await Promise.all(
      Array.from({ length: count }, async (_, at) => {
        const payload = JSON.stringify({ value: 12 + (at % 50) / 100, time: 1_780_000_000 + from + at });
        await device.publishAsync('welcomb/scale-1/weight', payload, { qos: 1 });
        acknowledged += 1;
      }),
    );
  };
  await publish(0, 10);
  breaks();
  const waiting = publish(10, 3000);
  const began = performance.now();
  const [alert] = await until(async () => {
    const open = await alertsOf(server);
    return open.length > 0 ? open : undefined;
  }, 75_000);
  // It does not wait for the minute at which the rules look anyway.
  expect(performance.now() - began).toBeLessThan(30_000);
  expect(alert?.ruleId).toBe('disk-filling');
  expect(JSON.stringify(alert)).toMatch(says);
  expect(await alertsOf(server)).toHaveLength(1);
  const stalled = acknowledged;
  expect(stalled).toBeLessThan(3010);
  await new Promise((resolve) => setTimeout(resolve, 1000));
  expect(acknowledged).toBe(stalled);
  mends();
  await waiting;
  const { items } = await server.get<ResponseOf<'listChannels'>>('/api/v1/channels');
  expect(items.find(({ sensor }) => sensor === 'scale-1')?.readings).toBe(3010);
}

describe.skipIf(!mounted)('a disk of its own', () => {
  it('full', { timeout: 120_000 }, async () => {
    const ballast = join(disk, 'ballast');
    undo.push(() => {
      spawnSync('umount', ['-l', disk]);
      dropFolder(disk);
    });
    await expectOneAlert(
      join(disk, 'data'),
      () => {
        spawnSync('sh', ['-c', `cat /dev/zero > '${ballast}'`]);
      },
      () => {
        rmSync(ballast);
      },
      /is full|reports an error/,
    );
  });
});

it('a database that another program holds', { timeout: 120_000 }, async () => {
  const data = newFolder();
  undo.push(() => {
    dropFolder(data);
  });
  let other: Database.Database | undefined;
  await expectOneAlert(
    data,
    () => {
      other = new Database(join(data, 'welcomb.db'));
      other.exec('BEGIN IMMEDIATE');
    },
    () => {
      other?.exec('ROLLBACK');
      other?.close();
    },
    /Another program holds/,
  );
});

/** Nobody may write to a file that is open already, not even root: what a disk does that its system mounts read-only. */
const seal = (flag: '+i' | '-i', ...files: readonly string[]): boolean =>
  spawnSync('chattr', [flag, ...files]).status === 0;

function canSeal(): boolean {
  const folder = newFolder();
  const file = join(folder, 'file');
  writeFileSync(file, '');
  const can = seal('+i', file);
  seal('-i', file);
  dropFolder(folder);
  if (!can) console.warn('Skipped: this user may not seal a file, so a read-only database was not tried.');
  return can;
}

it.skipIf(!canSeal())('a database that became read-only', { timeout: 120_000 }, async () => {
  const data = newFolder();
  const files = [join(data, 'welcomb.db'), join(data, 'welcomb.db-wal')];
  undo.push(() => {
    seal('-i', ...files);
    dropFolder(data);
  });
  await expectOneAlert(
    data,
    () => expect(seal('+i', ...files)).toBe(true),
    () => seal('-i', ...files),
    /can't be written: check .* read-only/,
  );
});
