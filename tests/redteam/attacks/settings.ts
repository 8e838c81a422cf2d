/** Attacks by what is stored, imported, edited or left readable: settings, secrets and files. */
import { spawnSync } from 'node:child_process';
import { chmodSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import Database from 'better-sqlite3';
import type { Status } from '../../../server/contract/server.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../../support/server-process.ts';
import type { Attack, Outcome } from '../attack.ts';

interface Farm {
  readonly farmName: string;
  readonly rawKeepDays: number;
}
const farmPath = '/api/v1/settings/farm';
const hook = { name: 'Hook', kind: 'webhook', enabled: true, urgencies: ['now'] };

async function withServer<T>(data: string, use: (server: RunningServer) => Promise<T>): Promise<T> {
  const server = await startServer({ data });
  try {
    return await use(server);
  } finally {
    await server.stop();
  }
}

async function inFolder(use: (data: string) => Promise<Outcome>): Promise<Outcome> {
  const data = newFolder();
  try {
    return await use(data);
  } finally {
    dropFolder(data);
  }
}

/** Changes stored settings while no server runs, as a torn disk or an editor does. */
function edit(data: string, key: string, change: (text: string) => string): void {
  const db = new Database(join(data, 'welcomb.db'));
  const text = db.prepare('SELECT value FROM setting WHERE key = ?').pluck().get(key) as string | undefined;
  db.prepare('INSERT OR REPLACE INTO setting (key, value) VALUES (?, ?)').run(key, change(text ?? ''));
  db.close();
}

const faultNames = async (server: RunningServer): Promise<string[]> =>
  ((await server.get<Status>('/api/v1/status')).settingFaults ?? []).map(({ name }) => name);
const putFarm = async (server: RunningServer, change: object): Promise<void> => {
  await server.send('PUT', farmPath, { ...(await server.get<Farm>(farmPath)), ...change });
};

/** When the nightly deleting last ran; undefined where it never did. */
function retentionRan(data: string): unknown {
  const db = new Database(join(data, 'welcomb.db'), { readonly: true });
  const at = db.prepare("SELECT * FROM mark WHERE name = 'job retention'").get();
  db.close();
  return at;
}

const oneBadSetting: Attack = {
  name: 'settings: one farm setting that can’t be read, then the nightly deleting',
  expected: 'the others stay, it is named, and no deleting runs',
  run: (size) =>
    inFolder(async (data) => {
      await withServer(data, (server) => putFarm(server, { farmName: 'Hillside', rawKeepDays: 36_000 }));
      edit(data, 'farm', (text) => text.replace('36000', '"36000"'));
      return withServer(data, async (server) => {
        const { farmName } = await server.get<Farm>(farmPath);
        const names = await faultNames(server);
        // Jobs are looked at once a minute.
        if (size === 'full') await pause(70_000);
        const ran = size === 'full' && retentionRan(data) !== undefined;
        return {
          held: farmName === 'Hillside' && names.includes('farm.rawKeepDays') && !ran,
          seen: `name “${farmName}”; told: ${names.join(', ') || 'nothing'}${ran ? '; readings were deleted by the default' : ''}`,
        };
      });
    }),
};

const tornSettings: Attack = {
  name: 'settings: a stored text cut off in the middle',
  expected: 'pages answer, other ways to tell stay, both torn ones are named',
  run: () =>
    inFolder(async (data) => {
      await withServer(data, async (server) => {
        await server.send('PUT', '/api/v1/settings/tellings/one', {
          ...hook,
          address: 'http://127.0.0.1:1/',
        });
      });
      edit(data, 'farm', () => '{"farmName":"Hill');
      edit(data, 'telling/torn', () => '{"id":');
      return withServer(data, async (server) => {
        await server.get('/api/v1/me');
        const { items } = await server.get<{ items: { id: string }[] }>('/api/v1/settings/tellings');
        const names = await faultNames(server);
        return {
          held: items.length === 1 && names.includes('telling/torn') && names.includes('farm.rawKeepDays'),
          seen: `${String(items.length)} way to tell; ${String(names.length)} faults told`,
        };
      });
    }),
};

const hostileImport: Attack = {
  name: 'settings: an import file that points heartbeat, forecast and backups elsewhere',
  expected: 'none of it is taken, and the report says so',
  run: () =>
    inFolder((data) =>
      withServer(data, async (server) => {
        const away = 'http://127.0.0.1:1/elsewhere';
        const value = {
          heartbeatUrl: away,
          forecastUrl: away,
          backupFolder: '/tmp/elsewhere',
          rawKeepDays: 30,
        };
        const body = [
          { kind: 'welcomb-export', format: 1, version: 'x', exportedAt: '2031-05-10T06:00:00Z' },
          { kind: 'setting', key: 'farm', value: { farmName: 'Hillside', ...value } },
          { kind: 'setting', key: 'anything', value: 'x'.repeat(1000) },
        ];
        const answer = await fetch(new URL('/api/v1/import/everything.jsonl', server.http), {
          method: 'POST',
          headers: { 'content-type': 'application/jsonl', origin: new URL(server.http).origin },
          body: body.map((line) => JSON.stringify(line)).join('\n'),
        });
        const report = (await answer.json()) as { settingsLeftOut?: unknown[] };
        const farm = await server.get<Farm & Record<keyof typeof value, unknown>>(farmPath);
        const taken = Object.entries(value).filter(
          ([key, one]) =>
            Reflect.get(farm, key) === one || (key.endsWith('Url') && Reflect.get(farm, key) !== ''),
        );
        return {
          held: taken.length === 0 && farm.farmName === 'Hillside' && report.settingsLeftOut?.length === 5,
          seen: `taken: ${taken.map(([key]) => key).join(', ') || 'none'}; told: ${String(report.settingsLeftOut?.length ?? 0)}`,
        };
      }),
    ),
};

const movedSecret: Attack = {
  name: 'settings: a way to tell is edited to another host, and a test is sent',
  expected: 'the other host gets no secret, and the answer says that it was dropped',
  run: () =>
    inFolder(async (data) => {
      const got: string[] = [];
      const elsewhere = createServer((request, response) => {
        got.push(request.headers.authorization ?? 'no secret');
        response.end();
      });
      await new Promise<void>((listening) => elsewhere.listen(0, '127.0.0.1', listening));
      const { port } = elsewhere.address() as AddressInfo;
      const path = '/api/v1/settings/tellings/one';
      try {
        return await withServer(data, async (server) => {
          await server.send('PUT', path, { ...hook, address: 'http://127.0.0.1:1/in', secret: 'HUSH' });
          const saved = await server.send<{ secretDropped?: boolean }>('PUT', path, {
            ...hook,
            secret: 'set',
            address: `http://127.0.0.1:${String(port)}/`,
          });
          await server.send('POST', `${path}/try`, undefined);
          return {
            held: got.length === 1 && !got.join().includes('HUSH') && saved.secretDropped === true,
            seen: `the other host got: ${got.join() || 'nothing'}`,
          };
        });
      } finally {
        elsewhere.close();
      }
    }),
};

const pushInward: Attack = {
  name: 'settings: a phone’s push address that leads into the house',
  expected: 'refused; where it was stored by other means, nothing is sent',
  run: () =>
    inFolder(async (data) => {
      let connections = 0;
      const inside = createServer((_request, response) => response.end()).on('connection', () => {
        connections += 1;
      });
      await new Promise<void>((listening) => inside.listen(0, '127.0.0.1', listening));
      const { port } = inside.address() as AddressInfo;
      const to = `:${String(port)}/send`;
      const hosts = [
        '127.0.0.1',
        '127.1',
        '0x7f000001',
        '[::1]',
        '[::ffff:7f00:1]',
        'localhost',
        'box.local.',
      ];
      const inward = [...hosts.map((host) => `https://${host}${to}`), `http://push.example.net${to}`];
      const phone = { name: 'Phone', kind: 'push', enabled: true, urgencies: ['now'] };
      const secret = `B${'A'.repeat(86)}.${'A'.repeat(22)}`;
      const path = '/api/v1/settings/tellings/p1';
      try {
        const taken: string[] = [];
        await withServer(data, async (server) => {
          await putFarm(server, { publicAddress: 'https://bees.example.org/' });
          await server.send('POST', '/api/v1/settings/push-key', {});
          for (const address of inward) {
            const put = server.send('PUT', path, { ...phone, address, secret });
            await put.then(() => taken.push(address)).catch(() => undefined);
          }
        });
        const stored = { ...phone, id: 'p1', address: inward[0], secret };
        edit(data, 'telling/p1', () => JSON.stringify(stored));
        const sent = await withServer(data, (server) =>
          server
            .send<{ ok: boolean; detail: string }>('POST', `${path}/try`, undefined)
            .catch(() => ({ ok: false, detail: 'refused' })),
        );
        return {
          held: taken.length === 0 && !sent.ok && connections === 0,
          seen: `taken: ${taken.join(', ') || 'none'} of ${String(inward.length)}; stored by hand: ${sent.detail}; connections: ${String(connections)}`,
        };
      } finally {
        inside.close();
      }
    }),
};

const readableFiles: Attack = {
  name: 'files: another user of the machine reads database, log, backups and settings file',
  expected: 'nobody else has any right, also on what was there before',
  run: () =>
    inFolder(async (above) => {
      const data = join(above, 'data');
      await withServer(data, (server) => server.send('POST', '/api/v1/backup', {}));
      const settings = join(above, 'settings.json');
      writeFileSync(settings, '{}');
      const all = (): string[] => [
        settings,
        data,
        ...readdirSync(data, { recursive: true }).map((name) => join(data, String(name))),
      ];
      for (const path of all()) chmodSync(path, statSync(path).isDirectory() ? 0o755 : 0o644);
      const server = await startServer({ data, args: ['--settings', settings] });
      try {
        await server.send('POST', '/api/v1/backup', {});
        const open = all().filter((path) => (statSync(path).mode & 0o077) !== 0);
        const count = `${String(open.length)} of ${String(all().length)} can be read`;
        return {
          held: open.length === 0,
          seen: [count, ...open.map((path) => path.slice(above.length + 1))].join(', '),
        };
      } finally {
        await server.stop();
      }
    }),
};

const startFaults: Attack = {
  name: 'settings: a start with four faults and a password among them',
  expected: 'ends with code 2, names all four, prints no password',
  run: () => {
    const program = join(import.meta.dirname, '../../../dist/server/main.js');
    const args = [
      '--http',
      'here',
      '--session-days',
      '0',
      '--log-level',
      'loud',
      '--broker-password',
      'HUSH',
    ];
    const { status, stderr } = spawnSync(process.execPath, [program, ...args], {
      encoding: 'utf8',
      timeout: 20_000,
    });
    const named = ['--http', '--session-days', '--log-level', '--broker-password'].filter((one) =>
      stderr.includes(one),
    );
    return Promise.resolve({
      held: status === 2 && named.length === 4 && !stderr.includes('HUSH'),
      seen: `code ${String(status)}, named: ${named.join(', ')}${stderr.includes('HUSH') ? ', and the password' : ''}`,
    });
  },
};

export const settingsAttacks: readonly Attack[] = [
  oneBadSetting,
  tornSettings,
  hostileImport,
  movedSecret,
  pushInward,
  readableFiles,
  startFaults,
];
