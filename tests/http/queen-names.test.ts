/** What the log's forms call the queens of a delivery: each nuc its own number, and nobody has to type. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { isoDate } from '../../server/introduction/calendar.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let farm: FarmServer;
const introductions = new Map<string, string>();

beforeEach(async () => {
  farm = await startFarm(at(-10));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  await farm.send('POST', '/arrivals', {
    id: 'a1',
    name: 'May delivery',
    source: 'Thorn',
    expected: isoDate(at(7), zone),
    queens: 12,
    state: 'ordered',
    dead: 0,
  });
  const body = { name: 'May', siteId: 's1', nucs: 11, namePrefix: 'Nuc', by: 'arrival', arrivalId: 'a1' };
  const { nucIds } = await farm.send<ResponseOf<'createBatch'>>('POST', '/plan/batches', body);
  for (const [i, id] of nucIds.entries()) {
    const { items } = await farm.get<ResponseOf<'listIntroductions'>>(`/nucs/${id}/introductions`);
    introductions.set(`Nuc ${String(i + 1)}`, items[0]?.id ?? '');
  }
});
afterEach(() => farm.stop());

async function names(): Promise<Readonly<Record<string, string | undefined>>> {
  const { items } = await farm.get<ResponseOf<'listNucs'>>('/nucs');
  return Object.fromEntries(items.map(({ hive, setup }) => [hive.name, setup?.nextQueen]));
}
const hang = (nuc: string, queenId: string, day: number): Promise<unknown> =>
  farm.log(introductions.get(nuc) ?? '', { kind: 'cage-hung', queenId, candyEnd: 'closed' }, at(day));

describe('the queen that comes next', () => {
  it('is called by her delivery, the nucs in the order in which people count', async () => {
    expect(await names()).toMatchObject({ 'Nuc 1': 'Thorn 1', 'Nuc 2': 'Thorn 2', 'Nuc 11': 'Thorn 11' });
  });

  it('keeps her number while others get theirs, and never has one that is taken', async () => {
    farm.at(at(8));
    await farm.log(introductions.get('Nuc 2') ?? '', facts.split(), at(0));
    await hang('Nuc 2', 'Thorn 2', 7);
    await farm.log(introductions.get('Nuc 3') ?? '', facts.split(), at(0));
    await hang('Nuc 3', 'Thorn 1', 7);
    const now = await names();
    expect(now).toMatchObject({
      'Nuc 1': 'Thorn 3',
      'Nuc 2': 'Thorn 2',
      'Nuc 3': 'Thorn 1',
      'Nuc 4': 'Thorn 4',
    });
    const given = Object.values(now);
    expect(new Set(given).size).toBe(given.length);
  });

  it('is another one after a death', async () => {
    farm.at(at(9));
    await farm.log(introductions.get('Nuc 1') ?? '', facts.split(), at(0));
    await hang('Nuc 1', 'Thorn 1', 7);
    await farm.log(introductions.get('Nuc 1') ?? '', { kind: 'queen-dead' }, at(8));
    const now = await names();
    expect(now['Nuc 1']).toMatch(/^Thorn \d+$/);
    expect(now['Nuc 1']).not.toBe('Thorn 1');
  });

  it('is called by her nuc where no delivery is named', async () => {
    await farm.send('POST', '/hives', {
      id: 'lone-nuc',
      siteId: 's1',
      role: 'nuc',
      name: 'Lone',
      box: 'wood',
    });
    await farm.send('POST', '/nucs/lone-nuc/introductions', {
      startingPoint: 'hopelessly-queenless',
      method: 'candy-cage',
    });
    expect((await names())['Lone']).toBe('Lone queen');
  });
});
