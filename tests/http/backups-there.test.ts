/** A folder for backups that is none, such as a file in its place, is said to be so. */
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { send, startServer } from './support/server.ts';

it('lists no backup and says why, and does not fail', async () => {
  const server = await startServer();
  onTestFinished(() => server.stop());
  const file = join(dirname(server.store.file), 'notes.txt');
  writeFileSync(file, 'no folder');
  server.store.settings.put('farm', { backupFolder: file }, { by: 'test' });
  const answer = await fetch(`${server.url}/api/v1/restore`);
  expect(answer.status).toBe(200);
  expect(await answer.json()).toMatchObject({
    folder: file,
    items: [],
    problem: `Backups in ${file} can’t be listed: a part of its path is a file. Name another folder.`,
  });
  const looked = await send(`${server.url}/api/v1/restore/look`, 'POST', { file: 'welcomb.sqlite' });
  expect(looked.status).not.toBe(500);
  const status = await fetch(`${server.url}/api/v1/status`);
  expect(await status.json()).toMatchObject({ lastBackup: null });
});
