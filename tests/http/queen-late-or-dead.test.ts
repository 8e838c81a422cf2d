/** A queen who is late, or came dead: what the list of nucs says of her nuc. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let farm: FarmServer;
let introductionId: string;
beforeEach(async () => {
  farm = await startFarm(at(-5));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  await farm.send('POST', '/hives', { id: 'nuc-a', siteId: 's1', role: 'nuc', name: 'Nuc A', box: 'wood' });
  await farm.send('POST', '/arrivals', {
    id: 'delivery-1',
    name: 'June',
    source: 'Bramble',
    expected: '2027-05-08',
    queens: 1,
  });
  const opened = await farm.send<ResponseOf<'openIntroduction'>>('POST', '/nucs/nuc-a/introductions', {
    startingPoint: 'planned-split',
    method: 'candy-cage',
    arrivalId: 'delivery-1',
  });
  introductionId = opened.id;
  farm.at(at(0));
  await farm.log(introductionId, facts.split());
});
afterEach(() => farm.stop());

const nuc = async () => (await farm.get<ResponseOf<'listNucs'>>('/nucs')).items[0]!;

it('a queen who is late is next only while nothing is due in the nuc', async () => {
  farm.at(at(9));
  expect((await nuc()).nextStep).toMatchObject({ kind: 'cut-cells', state: 'overdue' });
  await farm.log(introductionId, facts.cut({ sealed: 9 }));
  expect((await nuc()).nextStep).toMatchObject({ kind: 'queen-arrives', state: 'overdue' });
});

it('one that came dead is lost, until the next has come', async () => {
  farm.at(at(7));
  await farm.log(introductionId, facts.cut({ sealed: 9 }));
  farm.at(at(10));
  await farm.log(introductionId, facts.cut());
  expect((await nuc()).queenLost).toBeUndefined();
  await farm.log(introductionId, facts.arrived({ condition: 'dead' }));
  expect(await nuc()).toMatchObject({ stage: 'waiting-for-queen', queenLost: true, nextStep: null });
  await farm.log(introductionId, facts.arrived({ queenId: 'queen-two' }));
  expect((await nuc()).queenLost).toBeUndefined();
});

it('the next step is none that something wrong stands against', async () => {
  farm.at(at(7));
  await farm.log(introductionId, facts.cut({ sealed: 9 }));
  farm.at(at(10));
  await farm.log(introductionId, facts.cut());
  await farm.log(introductionId, facts.arrived());
  farm.at(at(11));
  await farm.log(introductionId, facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true }));
  expect((await nuc()).nextStep).toMatchObject({ kind: 'unite', state: 'due' });
});
