/** An empty server takes a backup from its first page: by HTTP with every refusal, and by a keeper in a browser. */
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { launch } from '../browser/chromium.ts';
import { commit, may1, minute, reading } from '../store/support/made-up.ts';
import { chromium, missing } from '../support/programs.ts';
import {
  dropFolder,
  newFolder,
  setupCodeOf,
  startServer,
  type RunningServer,
} from '../support/server-process.ts';
import { until } from '../support/until.ts';

const kept = newFolder();
const name = 'welcomb-20260502T000000Z.sqlite';
const backup = join(kept, name);

beforeAll(async () => {
  const store = openStore({ file: join(kept, 'welcomb.db'), nowMs: () => Date.UTC(2026, 4, 2) });
  store.places.putSite({ id: 's1', name: 'Lower field', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 8 });
  commit(store, ...Array.from({ length: 250 }, (_, i) => reading(may1 + i * 5 * minute, 30 + (i % 7) / 10)));
  const barn = { id: 'w1', name: 'the barn', kind: 'webhook', address: 'https://notes.example/token-4711' };
  store.settings.put('telling/w1', barn, { by: 'Ada' });
  await store.backup(kept);
  store.close();
});
afterAll(() => {
  dropFolder(kept);
});

async function emptyServer(): Promise<RunningServer> {
  const data = newFolder();
  mkdirSync(join(data, 'backups'));
  copyFileSync(backup, join(data, 'backups', name));
  return startServer({ data });
}

const upload = (server: RunningServer, body: Uint8Array<ArrayBuffer>, headers: Record<string, string> = {}) =>
  fetch(`${server.http}/api/v1/restore/upload`, {
    method: 'POST',
    headers: {
      'Content-Type': 'application/vnd.sqlite3',
      Origin: server.http,
      ...headers,
      'X-Setup-Code': setupCodeOf(server),
    },
    body,
  });

interface Site {
  readonly name: string;
}
const sitesOnceBack = (server: RunningServer): Promise<Site[]> =>
  until(async () => {
    try {
      const { items } = await server.get<{ items: Site[] }>('/api/v1/sites');
      return items.length > 0 ? items : undefined;
    } catch {
      return undefined;
    }
  });

describe('an empty server', () => {
  it('lists the backups, brings one back, and answers at the same address with its readings', async () => {
    const server = await emptyServer();
    try {
      const listed = await server.get<{ possible: boolean; items: { file: string }[] }>('/api/v1/restore');
      expect(listed).toMatchObject({ possible: true, items: [{ file: name }] });
      await server.send('POST', '/api/v1/restore', { file: name, code: setupCodeOf(server) });
      expect(await sitesOnceBack(server)).toMatchObject([{ name: 'Lower field' }]);
      expect(await server.get('/api/v1/status')).toMatchObject({ ready: true, store: { readings: 250 } });
      expect(readdirSync(server.data)).toContain('welcomb.db.replaced');
      // It has records now, and would not overwrite them.
      expect(await server.get('/api/v1/restore')).toMatchObject({ possible: false });
      await expect(
        server.send('POST', '/api/v1/restore', { file: name, code: setupCodeOf(server) }),
      ).rejects.toThrow(/409.*has records/);
      expect((await upload(server, new Uint8Array(readFileSync(backup)))).status).toBe(409);
    } finally {
      expect(await server.stop()).toBe(0);
      dropFolder(server.data);
    }
  }, 60_000);

  it('takes an upload, and refuses what is damaged, foreign, newer or asked for by another site', async () => {
    const server = await emptyServer();
    try {
      const good = new Uint8Array(readFileSync(backup));
      const damaged = good.slice();
      damaged.fill(0, 4096, 12_288);
      const newer = join(kept, 'newer.sqlite');
      writeFileSync(newer, good);
      const db = new Database(newer);
      db.pragma('user_version = 999');
      db.close();
      for (const [body, sentence] of [
        [damaged, /does not pass its check/],
        [new TextEncoder().encode('a list of queens'), /does not pass its check/],
        [new Uint8Array(readFileSync(newer)), /newer version of this program/],
      ] as const) {
        const refused = await upload(server, body);
        expect(refused.status).toBe(422);
        expect(await refused.text()).toMatch(sentence);
      }
      expect((await upload(server, good, { 'Content-Type': 'text/plain' })).status).toBe(415);
      expect((await upload(server, good, { Origin: 'http://elsewhere.example' })).status).toBe(403);
      await expect(
        server.send('POST', '/api/v1/restore', {
          file: '../../../../etc/hostname',
          code: setupCodeOf(server),
        }),
      ).rejects.toThrow(/404/);
      // Nothing was touched, and nothing is left over.
      const left = readdirSync(server.data).filter((one) => /uploaded|incoming|replaced/.test(one));
      expect(left).toEqual([]);
      expect(await server.get('/api/v1/status')).toMatchObject({ ready: true, store: { readings: 0 } });
      expect((await upload(server, good)).status).toBe(204);
      expect(await sitesOnceBack(server)).toMatchObject([{ name: 'Lower field' }]);
    } finally {
      expect(await server.stop()).toBe(0);
      dropFolder(server.data);
    }
  }, 60_000);
});

describe.skipIf(missing('Chromium', chromium))('a keeper with an empty server', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  it('brings the backup back from the first page', async () => {
    const server = await emptyServer();
    try {
      const page = await browser.newPage();
      await page.goto(server.http);
      await page.getByText('Bring back a backup instead').click();
      await page.getByLabel('Setup code for the backup').fill(setupCodeOf(server));
      await page.getByRole('button', { name: `Check ${name}` }).click();
      const contents = page.getByRole('region', { name: `What is in ${name}` });
      await contents.getByText('nobody yet: the first at the server').waitFor();
      await contents.getByText('the barn (webhook, https://notes.example/…)').waitFor();
      await contents.getByRole('button', { name: 'Bring it back' }).click();
      expect(await sitesOnceBack(server)).toMatchObject([{ name: 'Lower field' }]);
      // The page comes back by itself, and knows the site: only a password is asked for.
      await page.getByText('Bring back a backup instead').waitFor({ state: 'detached', timeout: 30_000 });
      await page.getByLabel('Password').waitFor();
      expect(await page.getByLabel('Name of the site').count()).toBe(0);
      expect(existsSync(join(server.data, 'welcomb.db.replaced'))).toBe(true);
      await page.close();
    } finally {
      await server.stop();
      dropFolder(server.data);
    }
  }, 90_000);
});
