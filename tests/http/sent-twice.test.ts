/** The same form sent twice, as after an answer that was lost on the way, makes one thing and gets the same answer. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

const batch = { id: 'batch-01', name: 'May', siteId: 's1', nucs: 3, namePrefix: 'Nuc', by: 'split' };
const body = { ...batch, splitOn: '2027-05-03' };
type Made = ResponseOf<'createBatch'>;

let farm: FarmServer;
beforeEach(async () => {
  farm = await startFarm(at(0));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
});
afterEach(() => farm.stop());

const nucs = async (): Promise<string[]> =>
  (await farm.get<ResponseOf<'listHives'>>('/hives')).items.map(({ name }) => name).sort();

describe('a batch', () => {
  it('is planned once, however often it is sent, and by several at once', async () => {
    const first = await farm.send<Made>('POST', '/plan/batches', body);
    const again = await Promise.all([1, 2, 3, 4].map(() => farm.send<Made>('POST', '/plan/batches', body)));
    for (const one of again) expect(one.nucIds).toEqual(first.nucIds);
    expect(await nucs()).toEqual(['Nuc 1', 'Nuc 2', 'Nuc 3']);
    for (const id of first.nucIds) {
      expect(
        (await farm.get<ResponseOf<'listIntroductions'>>(`/nucs/${id}/introductions`)).items,
      ).toHaveLength(1);
    }
  });

  it('for a delivery says nothing of missing queens when it is sent again', async () => {
    const delivery = { id: 'a1', name: 'June', source: 'own', expected: '2027-06-01', queens: 3 };
    await farm.send('POST', '/arrivals', delivery);
    const forIt = { ...batch, by: 'arrival', arrivalId: 'a1' };
    await farm.send<Made>('POST', '/plan/batches', forIt);
    expect((await farm.send<Made>('POST', '/plan/batches', forIt)).preview.clashes).toEqual([]);
  });

  it('that was changed in between is refused, naming what is there', async () => {
    const { nucIds } = await farm.send<Made>('POST', '/plan/batches', body);
    for (const change of [{ nucs: 2 }, { name: 'June' }, { method: 'push-in-cage' }]) {
      expect(await farm.ask('POST', '/plan/batches', { ...body, ...change })).toMatchObject({
        status: 409,
        detail:
          'This form has planned Nuc 1, Nuc 2, Nuc 3 already, otherwise than it is filled in now: reload the page to plan more.',
      });
    }
    expect(await nucs()).toHaveLength(nucIds.length);
  });

  it('that was cut short is completed', async () => {
    await farm.send<Made>('POST', '/plan/batches', { ...body, nucs: 2 });
    const { nucIds } = await farm.send<Made>('POST', '/plan/batches', body);
    expect(nucIds).toHaveLength(3);
    expect(await nucs()).toEqual(['Nuc 1', 'Nuc 2', 'Nuc 3']);
  });

  it('of a client that makes no id is a new one each time, as ever', async () => {
    const { id: _none, ...old } = body;
    await farm.send('POST', '/plan/batches', old);
    await farm.send('POST', '/plan/batches', old);
    expect(await nucs()).toHaveLength(6);
  });

  it('keeps what was logged in it', async () => {
    const { nucIds } = await farm.send<Made>('POST', '/plan/batches', body);
    const [one] = (await farm.get<ResponseOf<'listIntroductions'>>(`/nucs/${nucIds[0]!}/introductions`))
      .items;
    await farm.log(one!.id, facts.split(), at(0));
    await farm.send('POST', '/plan/batches', body);
    expect((await farm.get<ResponseOf<'getNuc'>>(`/nucs/${nucIds[0]!}`)).log).toHaveLength(1);
  });
});

describe('under an id that is there already', () => {
  it('another delivery is refused instead of being lost', async () => {
    const delivery = { id: 'a1', name: 'June', source: 'own', expected: '2027-06-01', queens: 6 };
    await farm.send('POST', '/arrivals', delivery);
    await farm.send('POST', '/arrivals', delivery);
    expect(await farm.ask('POST', '/arrivals', { ...delivery, queens: 8 })).toMatchObject({
      status: 409,
      detail: 'June is there already, with other facts: change it in the list of deliveries.',
    });
    expect((await farm.get<ResponseOf<'listArrivals'>>('/arrivals')).items).toMatchObject([{ queens: 6 }]);
  });

  it('a nuc at another site is refused instead of being lost', async () => {
    const nuc = { id: 'n1', name: 'Nuc 1', siteId: 's1', role: 'nuc' };
    await farm.send('POST', '/sites', { id: 's2', name: 'Hill', timeZone: zone, latDeg: 50, lonDeg: 10 });
    await farm.send('POST', '/hives', nuc);
    await farm.send('POST', '/hives', nuc);
    expect((await farm.ask('POST', '/hives', { ...nuc, siteId: 's2' })).status).toBe(409);
    expect(await nucs()).toEqual(['Nuc 1']);
  });
});
