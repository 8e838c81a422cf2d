/** What earlier nucs taught about this farm's eye reaches the gate of the next nuc, and follows corrections. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let farm: FarmServer;
beforeAll(async () => {
  farm = await startFarm(at(-1));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
});
afterAll(() => farm.stop());

async function begin(
  nucId: string,
  day: number,
): Promise<(day: number, fact: FactPayload, id?: string) => Promise<void>> {
  farm.at(at(day));
  await farm.send('POST', '/hives', { id: nucId, name: nucId, siteId: 's1', role: 'nuc' });
  const start = { id: `intro-${nucId}`, startingPoint: 'planned-split', method: 'candy-cage' };
  await farm.send('POST', `/nucs/${nucId}/introductions`, start);
  return async (on, fact, id) => {
    farm.at(at(on, 11));
    const written = await farm.log(`intro-${nucId}`, fact, at(on), id);
    expect(written.problems).toEqual([]);
  };
}
const figures = async (nucId: string) => {
  const { gates } = await farm.get<ResponseOf<'getNuc'>>(`/nucs/${nucId}`);
  const open = gates.find(({ gate }) => gate === 'open-candy')!;
  return open.reasons.flatMap(({ figure }) => (figure?.name.includes('misses') ? [figure] : []));
};

/** “about 1 in 6” as a share. */
const shareOf = (words: string): number => 1 / Number(/^about 1 in (\d+)$/.exec(words)?.[1]);

it('is the prior at first, then learnt from what has ended, and learnt anew when an old log is corrected', async () => {
  const first = await begin('nuc-a', 0);
  await first(0, facts.split());
  await first(7, facts.cut({ sealed: 12 }));
  await first(7, facts.hung());
  await first(10, facts.cut({ sealed: 5 }), 'second-look-a');
  expect((await figures('nuc-a')).map(({ name }) => name)).toEqual(['share of cells that a look misses']);
  await first(11, { kind: 'outcome', outcome: 'given-up' });

  const next = await begin('nuc-b', 20);
  await next(20, facts.split());
  await next(27, facts.cut({ sealed: 12 }));
  await next(27, facts.hung());
  await next(30, facts.cut());
  const [learnt] = await figures('nuc-b');
  expect(learnt).toMatchObject({ name: 'share of cells that a look misses on this farm' });
  expect(learnt!.source).toContain('second looks in 1 earlier nuc of this farm');
  expect(shareOf(learnt!.value)).toBeGreaterThan(0.15);

  // The five cells of the second look were another nuc's.
  const { items } = await farm.send<ResponseOf<'postLog'>>('POST', '/log', {
    entries: [
      {
        id: 'correction-a',
        introductionId: 'intro-nuc-a',
        type: 'correction',
        corrects: 'second-look-a',
        happenedAtMs: at(30),
        writtenAtMs: at(30),
        replacement: facts.cut(),
      },
    ],
  });
  expect(items[0]).toMatchObject({ result: 'stored' });
  farm.at(at(30, 12));
  await next(30, { kind: 'note' });
  const [corrected] = await figures('nuc-b');
  expect(shareOf(corrected!.value)).toBeLessThan(0.09);
});
