/** The short run of the soak: kill -9 at random moments, every acknowledged reading stored exactly once. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { soak } from '../soak/soak.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { full, sized } from '../support/size.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

let folder = '';
beforeEach(() => {
  folder = newFolder();
});
afterEach(() => {
  dropFolder(folder);
});

const kills = sized(1, 4);
const nothingLost = { lost: 0, wrong: 0, conflicts: 0 };

test('embedded broker, server killed', { timeout: 240_000 }, async () => {
  const result = await soak({ way: 'embedded', kills, brokerRestarts: 0, seed: 7, folder });
  expect(result).toMatchObject({ kills, ...nothingLost });
  expect(result.acknowledged).toBeGreaterThan(sized(100, 500));
});

describe.skipIf(!full || missing('mosquitto', mosquitto))('a broker beside it', () => {
  test('server killed, broker restarted', { timeout: 240_000 }, async () => {
    const result = await soak({ way: 'mosquitto', kills, brokerRestarts: 1, seed: 7, folder });
    expect(result).toMatchObject({ kills, brokerRestarts: 1, ...nothingLost });
    expect(result.acknowledged).toBeGreaterThan(50);
  });
});
