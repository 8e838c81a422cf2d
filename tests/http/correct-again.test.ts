/** Corrections that were wrong themselves: what the log of a nuc shows, and what counts. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import type { Correction } from '../../server/introduction/log/facts.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let farm: FarmServer;
const intro: Record<string, string> = {};
beforeEach(async () => {
  farm = await startFarm(at(-1));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  for (const id of ['nuc-a', 'nuc-b']) {
    await farm.send('POST', '/hives', { id, siteId: 's1', role: 'nuc', name: id, box: 'wood' });
    const opened = await farm.send<ResponseOf<'openIntroduction'>>('POST', `/nucs/${id}/introductions`, {
      startingPoint: 'planned-split',
      method: 'candy-cage',
    });
    intro[id] = opened.id;
  }
  farm.at(at(9));
  await farm.log(intro['nuc-a']!, facts.split(), at(0), 'split-of-a');
  await farm.log(intro['nuc-b']!, facts.split(), at(0), 'split-of-b');
});
afterEach(() => farm.stop());

const correct = async (id: string, corrects: string, how: Partial<Correction> = {}) => {
  const entry = { id, introductionId: intro['nuc-a'], type: 'correction', corrects, ...how };
  const times = { happenedAtMs: at(9), writtenAtMs: at(9) };
  const { items } = await farm.send<ResponseOf<'postLog'>>('POST', '/log', {
    entries: [{ ...entry, ...times }],
  });
  return items[0]!;
};
const nuc = (id = 'nuc-a') => farm.get<ResponseOf<'getNuc'>>(`/nucs/${id}`);
/** What is written, and whether it still counts. */
const lines = async (id?: string) =>
  Object.fromEntries(
    (await nuc(id)).log.map(({ entry, text, correctedBy, withdrawn }) => [
      entry.id,
      [text.split(':')[0], correctedBy ?? 'counts', withdrawn],
    ]),
  );

it('a correction is corrected again, and its last words count', async () => {
  const on = (day: number) => ({ replacement: facts.split(), replacementHappenedAtMs: at(day) });
  await correct('correction-1', 'split-of-a', on(3));
  await correct('correction-2', 'correction-1', on(1));
  expect(await lines()).toMatchObject({
    'split-of-a': ['Split made', 'correction-2', false],
    'correction-1': [expect.stringContaining('Correction for'), 'correction-2', false],
    'correction-2': [expect.stringContaining('Correction for'), 'counts', false],
  });
  expect((await nuc()).day).toBe(8);
});

it('a withdrawal is taken back: the entry counts again, and says so', async () => {
  await farm.log(intro['nuc-a']!, facts.cut({ sealed: 4 }), at(8), 'cut-of-a');
  await correct('withdrawn-1', 'cut-of-a');
  expect(await lines()).toMatchObject({ 'cut-of-a': ['Cells cut', 'withdrawn-1', true] });
  await correct('taken-back', 'withdrawn-1');
  expect(await lines()).toMatchObject({
    'cut-of-a': ['Cells cut', 'counts', false],
    'withdrawn-1': ['Correction', 'taken-back', true],
    'taken-back': ['Correction taken back', 'counts', false],
  });
  expect((await nuc()).stage).toBe('second-look-due');
});

it('a withdrawal is not taken back where another entry stands in that place', async () => {
  await correct('withdrawn-1', 'split-of-a');
  await farm.log(intro['nuc-a']!, facts.split(), at(1), 'second-split');
  expect(await correct('taken-back', 'withdrawn-1')).toMatchObject({
    result: 'refused',
    problems: [expect.stringContaining('A split is logged already')],
  });
});

it('an entry that was moved counts in the log of the nuc that it was moved to', async () => {
  await farm.log(intro['nuc-a']!, facts.cut({ sealed: 4 }), at(8), 'cut-of-a');
  await correct('moved-away-1', 'cut-of-a', { moveTo: intro['nuc-b']! });
  expect(await lines('nuc-a')).toMatchObject({ 'cut-of-a': ['Cells cut', 'moved-away-1', false] });
  expect(await lines('nuc-b')).toMatchObject({ 'cut-of-a': ['Cells cut', 'moved-away-1', false] });
  const movedHere = async (id: string) =>
    (await nuc(id)).log.find(({ entry }) => entry.id === 'cut-of-a')?.movedHere;
  expect([await movedHere('nuc-a'), await movedHere('nuc-b')]).toEqual([undefined, true]);
  const text = async (id: string) =>
    (await nuc(id)).log.find(({ entry }) => entry.id === 'moved-away-1')?.text;
  expect([await text('nuc-a'), await text('nuc-b')]).toEqual([
    'Correction: belongs to another nuc',
    'Correction: belongs to this nuc',
  ]);
});
