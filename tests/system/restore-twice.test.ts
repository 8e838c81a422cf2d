/** A backup that is brought back by several at once: it is brought back once, and the server goes on with it. */
import { mkdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { pino } from 'pino';
import { expect, onTestFinished, test } from 'vitest';
import { runRestorable } from '../../server/restarting.ts';
import { parseSettings } from '../../server/settings.ts';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { until } from '../support/until.ts';

async function backupOfOneSite(folder: string): Promise<string> {
  const store = openStore({ file: join(temporaryFolder(), 'welcomb.db') });
  store.places.putSite({ id: 's1', name: 'Lower field', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 8 });
  const { file } = await store.backup(folder);
  store.close();
  return basename(file);
}

test('is brought back for the first; the others are told to wait', { timeout: 60_000 }, async () => {
  const data = temporaryFolder();
  mkdirSync(join(data, 'backups'));
  const file = await backupOfOneSite(join(data, 'backups'));
  const anyPort = ['--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'];
  const parsed = parseSettings(['--data', data, ...anyPort], {}, () => '');
  if (!parsed.ok) throw new Error(parsed.message);
  const server = await runRestorable(parsed.settings, { log: pino({ level: 'silent' }) });
  onTestFinished(() => server.stop());
  const ask = (path: string, body?: object) =>
    fetch(`${server.http}/api/v1${path}`, {
      headers: { 'content-type': 'application/json', origin: server.http },
      ...(body && { method: 'POST', body: JSON.stringify(body) }),
    });
  const code = readFileSync(join(data, 'setup-code.txt'), 'utf8').trim();
  const answers = await Promise.all([1, 2, 3].map(() => ask('/restore', { file, code })));
  expect(answers.map(({ status }) => status).sort()).toEqual([204, 503, 503]);
  const sites = await until(async () => {
    // While it starts again nobody answers.
    const answer = await ask('/sites').catch(() => undefined);
    const { items } = ((await answer?.json()) ?? { items: [] }) as { items: unknown[] };
    return items.length > 0 ? items : undefined;
  });
  expect(sites).toMatchObject([{ name: 'Lower field' }]);
});
