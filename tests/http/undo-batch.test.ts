/** A batch that was only planned is taken back as one; what was logged stays. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let farm: FarmServer;
let nucIds: string[] = [];
beforeEach(async () => {
  farm = await startFarm(at(0));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  const body = { name: 'May', siteId: 's1', nucs: 3, namePrefix: 'Nuc', by: 'split', splitOn: '2027-05-03' };
  nucIds = (await farm.send<ResponseOf<'createBatch'>>('POST', '/plan/batches', body)).nucIds;
});
afterEach(() => farm.stop());

const undo = () => farm.ask<ResponseOf<'undoBatch'>>('POST', '/plan/batches/undo', { nucIds });
const left = async (): Promise<number> => (await farm.get<ResponseOf<'listHives'>>('/hives')).items.length;

it('is gone with its plan, and once more is nothing', async () => {
  expect((await undo()).body).toEqual({ removed: 3 });
  expect(await left()).toBe(0);
  expect((await farm.get<ResponseOf<'getPlan'>>('/plan')).items).toEqual([]);
  expect((await farm.get<ResponseOf<'listNucs'>>('/nucs')).items).toEqual([]);
  expect((await undo()).body).toEqual({ removed: 0 });
});

it('stays whole where something was logged in one of its nucs', async () => {
  const { items } = await farm.get<ResponseOf<'listIntroductions'>>(`/nucs/${nucIds[1]!}/introductions`);
  await farm.log(items[0]!.id, facts.split(), at(0));
  expect(await undo()).toMatchObject({
    status: 409,
    detail: 'Nuc 2 can’t be taken back: something is logged in it. Call its split off, or log how it ended.',
  });
  expect(await left()).toBe(3);
});

it('goes on with the numbers after the nucs that are there, and says so before', async () => {
  await farm.send('POST', '/hives', { id: 'other', name: 'NUC 7', siteId: 's1', role: 'nuc' });
  await farm.send('POST', '/hives', { id: 'strange', name: 'Nuc 12b', siteId: 's1', role: 'nuc' });
  const more = { name: 'June', siteId: 's1', nucs: 2, namePrefix: 'Nuc', by: 'split', splitOn: '2027-06-03' };
  const preview = await farm.send<ResponseOf<'previewBatch'>>('POST', '/plan/preview', more);
  expect(preview.names).toEqual(['Nuc 8', 'Nuc 9']);
  await farm.send('POST', '/plan/batches', more);
  const { items } = await farm.get<ResponseOf<'listHives'>>('/hives');
  const names = items.map(({ name }) => name);
  expect(names).toEqual(expect.arrayContaining(['Nuc 8', 'Nuc 9']));
  expect(new Set(names).size).toBe(names.length);
});
