/** Two nucs swapped in the log: the wrong one says go until the facts are moved; then both stand as if written right. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { at, cells, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let farm: FarmServer;
const nucs = ['cut', 'left', 'right-cut', 'right-left'] as const;
type Nuc = (typeof nucs)[number];

beforeAll(async () => {
  farm = await startFarm(at(0, 9));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  for (const id of nucs) {
    await farm.send('POST', '/hives', { id, name: id, siteId: 's1', role: 'nuc' });
    const start = { id: `intro-${id}`, startingPoint: 'planned-split', method: 'candy-cage' };
    await farm.send('POST', `/nucs/${id}/introductions`, start);
  }
});
afterAll(() => farm.stop());

const log = async (nuc: Nuc, day: number, fact: FactPayload, id: string): Promise<void> => {
  farm.at(at(day, 11));
  expect(await farm.log(`intro-${nuc}`, fact, at(day), id)).toMatchObject({ result: 'stored', problems: [] });
};
const detail = (nuc: Nuc) => farm.get<ResponseOf<'getNuc'>>(`/nucs/${nuc}`);
const candy = async (nuc: Nuc) => (await detail(nuc)).candyGate!;
const move = (id: string, from: Nuc, to: Nuc) => ({
  id: `moved-${id}`,
  introductionId: `intro-${from}`,
  type: 'correction',
  corrects: id,
  moveTo: `intro-${to}`,
  happenedAtMs: at(10, 11),
  writtenAtMs: at(10, 11),
});

it('is put right by moving each fact to its nuc, in one go', async () => {
  // On two nucs alike one was cut and looked through again; on the other the cells were only counted.
  const visits = async (cutInto: Nuc, leftInto: Nuc, mark: string) => {
    for (const nuc of [cutInto, leftInto]) {
      await log(nuc, 0, facts.split(), `${mark}-split-${nuc}`);
      await log(nuc, 7, facts.hung({ queenId: `queen-${nuc}` }), `${mark}-hung-${nuc}`);
    }
  };
  await visits('cut', 'left', 'swap');
  await visits('right-cut', 'right-left', 'fine');
  const first = facts.cut({ sealed: 8 });
  const counted = facts.inspection({ cells: cells({ sealed: 6 }) });
  for (const [mark, cutInto, leftInto] of [
    ['swap', 'left', 'cut'],
    ['fine', 'right-cut', 'right-left'],
  ] as const) {
    await log(cutInto, 7, first, `${mark}-first-cut`);
    await log(leftInto, 7, counted, `${mark}-counted`);
    await log(cutInto, 10, facts.cut(), `${mark}-second-cut`);
  }

  // The danger: the nuc in which six cells stand says go, the one that was cut does not.
  expect(await candy('left')).toMatchObject({ answer: 'go' });
  expect(await candy('cut')).toMatchObject({ answer: 'stop', headline: 'A virgin may be loose' });

  const entries = [
    move('swap-first-cut', 'left', 'cut'),
    move('swap-second-cut', 'left', 'cut'),
    move('swap-counted', 'cut', 'left'),
  ];
  const posted = await farm.send<ResponseOf<'postLog'>>('POST', '/log', { entries });
  expect(posted.items.map(({ result }) => result)).toEqual(['stored', 'stored', 'stored']);
  farm.at(at(10, 12));

  expect(await candy('cut')).toMatchObject({ answer: 'go' });
  expect(await candy('left')).toMatchObject({ answer: 'stop', headline: 'A virgin may be loose' });
  // As if it had been written right at once: gates, plan, stage and rail's windows.
  for (const [mended, right] of [
    ['cut', 'right-cut'],
    ['left', 'right-left'],
  ] as const) {
    const bare = async (nuc: Nuc) => {
      const { gates, plan, stageText, candyGate, contradictions, rail } = await detail(nuc);
      return {
        gates,
        stageText,
        candyGate,
        contradictions,
        windows: rail?.windows,
        plan: plan.map(({ kind, target, earliest, latest, state }) => ({
          kind,
          target,
          earliest,
          latest,
          state,
        })),
      };
    };
    expect(await bare(mended)).toEqual(await bare(right));
  }
  // What was written stays to be read, where it was written and where it belongs, marked as corrected.
  const wrong = (await detail('left')).log.filter((line) => line.correctedBy !== undefined);
  expect(wrong.map(({ entry }) => entry.id).sort()).toEqual([
    'swap-counted',
    'swap-first-cut',
    'swap-second-cut',
  ]);

  // Sent again from a phone that did not hear the answer: stored once.
  const again = await farm.send<ResponseOf<'postLog'>>('POST', '/log', { entries });
  expect(again.items.map(({ result }) => result)).toEqual([
    'already-there',
    'already-there',
    'already-there',
  ]);
  expect(await candy('cut')).toMatchObject({ answer: 'go' });
});

it('refuses to move a fact to where it can’t have happened, and leaves all as it was', async () => {
  const before = await detail('cut');
  const split = { ...move('swap-split-cut', 'cut', 'left'), id: 'moved-split' };
  const answer = await farm.send<ResponseOf<'postLog'>>('POST', '/log', { entries: [split] });
  expect(answer.items[0]).toMatchObject({ result: 'refused' });
  expect(answer.items[0]!.problems.join(' ')).toMatch(/split/);
  expect((await detail('cut')).log).toEqual(before.log);
});
