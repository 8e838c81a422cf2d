/** A nuc that is changed keeps all that was not named; one that is off the lists is looked back on as before. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

const nowMs = Date.UTC(2027, 4, 10, 10);
let farm: FarmServer;
beforeAll(async () => {
  farm = await startFarm(nowMs);
  const site = { id: 's1', name: 'Lower field', latDeg: 50, lonDeg: 9, timeZone: 'Europe/Berlin' };
  await farm.send('POST', '/sites', site);
});
afterAll(() => farm.stop());

it('keeps the box and what it is for when only its name changes', async () => {
  const parent = { id: 'p1', name: 'Stand', siteId: 's1', role: 'parent', box: 'polystyrene', emptyKg: 5.2 };
  await farm.send('POST', '/hives', parent);
  expect(await farm.send('PATCH', '/hives/p1', { name: 'Stand A' })).toMatchObject({
    ...parent,
    name: 'Stand A',
  });
});

it('takes a nuc off the lists and back; its outcome stays in the review of its batch', async () => {
  await farm.send('POST', '/hives', { id: 'n1', name: 'Nuc 1', siteId: 's1', batch: 'May' });
  await farm.send('POST', '/nucs/n1/introductions', {
    id: 'introduction-1',
    startingPoint: 'planned-split',
    method: 'candy-cage',
    plannedSplit: new Date(nowMs).toISOString(),
  });
  await farm.log('introduction-1', { kind: 'outcome', outcome: 'given-up' }, nowMs - 1000);
  await farm.send('PATCH', '/hives/n1', { retired: true });
  const listed = async () =>
    (await farm.get<ResponseOf<'listNucs'>>('/nucs')).items.map(({ hive }) => hive.id);
  expect(await listed()).toEqual([]);
  const { batch, batches } = await farm.get<ResponseOf<'reviewBatch'>>('/review/batch');
  expect([batch, batches]).toEqual(['May', ['May']]);
  await farm.send('PATCH', '/hives/n1', { retired: false });
  expect(await listed()).toEqual(['n1']);
});
