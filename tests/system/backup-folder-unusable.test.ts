/** A folder for backups that can't be read, such as that of a disk that is gone, does not keep the server from starting. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { expect, it, onTestFinished } from 'vitest';
import { openDataFolder } from '../../server/open-folder.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

it('opens the data folder all the same', () => {
  const folder = newFolder();
  onTestFinished(() => {
    dropFolder(folder);
  });
  const log = pino({ level: 'silent' });
  const file = join(folder, 'no-folder');
  writeFileSync(file, '');
  const first = openDataFolder(folder, Date.now, log);
  first.store.settings.put('farm', { backupFolder: file }, { by: 'test' });
  first.close();
  const second = openDataFolder(folder, Date.now, log);
  expect(second.store.settings.get('farm')).toEqual({ backupFolder: file });
  second.close();
});
