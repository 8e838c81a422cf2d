/** The short run of the soak: kill -9 at random moments, every acknowledged reading stored exactly once. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { soak } from '../soak/soak.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

let folder = '';
beforeEach(() => {
  folder = newFolder();
});
afterEach(() => {
  dropFolder(folder);
});

const nothingLost = { lost: 0, wrong: 0, conflicts: 0 };

test('embedded broker: killed four times', { timeout: 240_000 }, async () => {
  const result = await soak({ way: 'embedded', kills: 4, brokerRestarts: 0, seed: 7, folder });
  expect(result).toMatchObject({ kills: 4, ...nothingLost });
  expect(result.acknowledged).toBeGreaterThan(500);
});

describe.skipIf(missing('mosquitto', mosquitto))('a broker beside it', () => {
  test('server killed three times, broker restarted once', { timeout: 240_000 }, async () => {
    const result = await soak({ way: 'mosquitto', kills: 3, brokerRestarts: 1, seed: 7, folder });
    expect(result).toMatchObject({ kills: 3, brokerRestarts: 1, ...nothingLost });
    expect(result.acknowledged).toBeGreaterThan(50);
  });
});
