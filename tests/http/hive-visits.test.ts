/** Visits to hives without an introduction, and introductions that are entered while they are under way. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

type Visits = ResponseOf<'listHiveVisits'>;
const iso = (ms: number): string => new Date(ms).toISOString();

let farm: FarmServer;
beforeEach(async () => {
  farm = await startFarm(at(9));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  await farm.send('POST', '/hives', {
    id: 'stock',
    siteId: 's1',
    role: 'parent',
    name: 'Stock',
    box: 'wood',
  });
  await farm.send('POST', '/hives', { id: 'nuc-a', siteId: 's1', role: 'nuc', name: 'Nuc A', box: 'wood' });
});
afterEach(() => farm.stop());

describe('a visit to a hive without an introduction', () => {
  it('is logged, once however often it is sent, and can be withdrawn', async () => {
    const visit = {
      id: 'visit-0001',
      kind: 'frames-taken',
      happenedAt: iso(at(8)),
      note: 'two of sealed brood',
    };
    await farm.send('POST', '/hives/stock/visits', visit);
    await farm.send('POST', '/hives/stock/visits', visit);
    const { items } = await farm.get<Visits>('/hives/stock/visits');
    expect(items).toMatchObject([{ ...visit, hiveId: 'stock', withdrawn: false, writtenAt: iso(at(9)) }]);
    await farm.send('DELETE', '/hives/stock/visits/visit-0001');
    expect((await farm.get<Visits>('/hives/stock/visits')).items).toMatchObject([{ withdrawn: true }]);
  });

  it('is refused in words where it can’t be', async () => {
    const ahead = { kind: 'fed', happenedAt: iso(at(10)) };
    expect(await farm.ask('POST', '/hives/stock/visits', ahead)).toMatchObject({
      status: 400,
      detail: expect.stringContaining('lies in the future') as unknown,
    });
    expect(await farm.ask('POST', '/hives/nowhere/visits', { kind: 'fed' })).toMatchObject({ status: 404 });
    expect(await farm.ask('DELETE', '/hives/stock/visits/visit-0009')).toMatchObject({ status: 404 });
    await farm.send('POST', '/hives/stock/visits', { id: 'visit-0001', kind: 'fed' });
    expect(await farm.ask('POST', '/hives/nuc-a/visits', { id: 'visit-0001', kind: 'fed' })).toMatchObject({
      status: 409,
    });
    expect(await farm.ask('DELETE', '/hives/nuc-a/visits/visit-0001')).toMatchObject({ status: 404 });
  });
});

describe('an introduction that is entered while it is under way', () => {
  const open = (more: object) =>
    farm.ask<ResponseOf<'openIntroduction'>>('POST', '/nucs/nuc-a/introductions', {
      startingPoint: 'planned-split',
      method: 'candy-cage',
      ...more,
    });

  it('begins when it began: its log, its days and its gates are those of one entered in time', async () => {
    const opened = await open({ id: 'intro-000001', openedAt: iso(at(0)) });
    expect(opened.body.openedAt).toBe(iso(at(0)));
    await farm.log('intro-000001', facts.split(), at(0));
    const search = { everyFrameChecked: true, beesShakenOff: true };
    const cells = { open: 4, sealed: 2, emerged: 0, tornDown: 0 };
    await farm.log(
      'intro-000001',
      { kind: 'cells-cut', ...search, cells, youngestBrood: 'not-looked', youngLarvaInOpenCell: false },
      at(7),
    );
    const late = await farm.get<ResponseOf<'getNuc'>>('/nucs/nuc-a');
    expect(late.day).toBe(9);
    expect(late.log).toHaveLength(2);

    const inTime = await startFarm(at(0));
    await inTime.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
    await inTime.send('POST', '/hives', {
      id: 'nuc-a',
      siteId: 's1',
      role: 'nuc',
      name: 'Nuc A',
      box: 'wood',
    });
    await inTime.send('POST', '/nucs/nuc-a/introductions', {
      id: 'intro-000001',
      startingPoint: 'planned-split',
      method: 'candy-cage',
    });
    await inTime.log('intro-000001', facts.split(), at(0));
    inTime.at(at(7));
    await inTime.log('intro-000001', {
      kind: 'cells-cut',
      ...search,
      cells,
      youngestBrood: 'not-looked',
      youngLarvaInOpenCell: false,
    });
    inTime.at(at(9));
    const twin = await inTime.get<ResponseOf<'getNuc'>>('/nucs/nuc-a');
    await inTime.stop();
    expect(late.gates).toEqual(twin.gates);
    expect(late.plan.map(({ kind, target, state }) => [kind, target, state])).toEqual(
      twin.plan.map(({ kind, target, state }) => [kind, target, state]),
    );
  });

  it('is refused where its beginning can’t be', async () => {
    expect(await open({ openedAt: iso(at(10)) })).toMatchObject({
      status: 400,
      detail: 'The beginning in Nuc A lies in the future: leave it out, or correct it.',
    });
    expect(await open({ openedAt: iso(at(-400)) })).toMatchObject({ status: 400 });
    await open({ id: 'intro-000001', openedAt: iso(at(0)) });
    await farm.log('intro-000001', facts.split(), at(0));
    await farm.log('intro-000001', { kind: 'outcome', outcome: 'queen-lost' }, at(8));
    const within = await open({ id: 'intro-000002', openedAt: iso(at(5)) });
    expect(within).toMatchObject({ status: 409, detail: expect.stringContaining('ended at') as unknown });
    expect(await open({ id: 'intro-000002', openedAt: iso(at(8, 20)) })).toMatchObject({ status: 200 });
  });
});
