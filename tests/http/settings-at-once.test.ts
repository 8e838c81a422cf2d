/** Two keepers have the farm's settings open and save them one after the other: neither loses what the other changed. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

type Farm = ResponseOf<'getFarm'>;

let farm: FarmServer;
let read: Farm;
const readNow = (): Promise<Farm> => farm.get<Farm>('/settings/farm');
const save = (change: Partial<Farm>) => farm.ask('PUT', '/settings/farm', { ...read, ...change, read });
beforeEach(async () => {
  farm = await startFarm(Date.UTC(2031, 4, 10, 6));
  await farm.ask('PUT', '/settings/farm', { ...(await readNow()), forecastUrl: 'http://127.0.0.1:1/key' });
  read = await readNow();
});
afterEach(() => farm.stop());

it('keeps what the other changed, and answers with both', async () => {
  expect((await save({ farmName: 'Valley' })).status).toBe(200);
  const { status, body } = await save({ backupKeep: 30 });
  expect(status).toBe(200);
  expect(body).toEqual({ ...read, farmName: 'Valley', backupKeep: 30 });
  expect(await readNow()).toEqual(body);
});

it('refuses where both changed the same, and names the field', async () => {
  await save({ farmName: 'Valley', backupKeep: 20 });
  expect(await save({ farmName: 'Hillside', backupKeep: 30, rawKeepDays: 400 })).toMatchObject({
    status: 409,
    detail: 'Somebody else changed the same settings meanwhile. Note what you wrote, then reload the page.',
    body: {
      type: 'conflict',
      errors: [
        { pointer: '#/farmName', detail: 'Somebody else changed this meanwhile.' },
        { pointer: '#/backupKeep' },
      ],
    },
  });
  expect(await readNow()).toEqual({ ...read, farmName: 'Valley', backupKeep: 20 });
});

it('takes what both changed to the same', async () => {
  await save({ farmName: 'Valley' });
  expect((await save({ farmName: 'Valley', backupKeep: 30 })).status).toBe(200);
});

it('without word of what was read, stores all that is given', async () => {
  await save({ farmName: 'Valley' });
  await farm.ask('PUT', '/settings/farm', { ...read, backupKeep: 30 });
  expect(await readNow()).toEqual({ ...read, backupKeep: 30 });
});
