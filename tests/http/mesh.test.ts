/** A queen under mesh, from the plan to her release, through HTTP: each step leads to the fact that logs it. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

describe('a queen under mesh that is pressed over emerging brood', () => {
  let farm: FarmServer;
  const nuc = () => farm.get<ResponseOf<'getNuc'>>('/nucs/n1');
  const log = (...args: [Parameters<FarmServer['log']>[1], number?]) => farm.log('intro-mesh-1', ...args);
  beforeAll(async () => {
    farm = await startFarm(at(-2));
    await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
    await farm.send('POST', '/hives', { id: 'n1', name: 'Nuc 1', siteId: 's1', role: 'nuc' });
    const start = { id: 'intro-mesh-1', startingPoint: 'planned-split', method: 'push-in-cage' };
    await farm.send('POST', '/nucs/n1/introductions', {
      ...start,
      plannedSplit: new Date(at(0)).toISOString(),
    });
  });
  afterAll(() => farm.stop());

  it('is planned in words of its own, and nothing speaks of candy', async () => {
    const { plan, gates } = await nuc();
    const step = (kind: string) => plan.find((one) => one.kind === kind)!;
    expect(step('hang-cage')).toMatchObject({ label: 'Press the mesh over her', logAs: 'cage-hung' });
    expect(step('open-candy')).toMatchObject({ label: 'Lift the mesh', logAs: 'cage-taken-out' });
    expect(gates.find(({ gate }) => gate === 'open-candy')?.question).toBe('May I lift the mesh?');
    expect(JSON.stringify({ plan, gates })).not.toMatch(/candy(?! ?end"|")(?!-)/i);
  });

  it('is let out by logging what the step asks for, and then hands are kept off', async () => {
    farm.at(at(0, 11));
    await log(facts.split(), at(0));
    farm.at(at(7, 11));
    await log(facts.cut({ sealed: 5 }), at(7));
    await log(facts.hung(), at(7, 10.5));
    expect((await nuc()).stageText).toMatch(/waiting for the second look/);
    farm.at(at(10, 11));
    await log(facts.cut(), at(10));
    const detail = await nuc();
    expect(detail.population!.text).toMatch(/when the mesh is to be lifted/);
    expect(detail.log.map(({ text }) => text)).toContain('Mesh pressed over the queen');
    expect(detail.log.map(({ text }) => text).join()).not.toMatch(/candy/i);
    const waits = detail.candyGate!;
    expect(waits.answer).toBe('go');
    expect(waits.headline).toBe('Lift the mesh');
    expect((await nuc()).stageText).toMatch(/^queen under the mesh/);
    const { plan } = await nuc();
    const { logAs } = plan.find(({ kind }) => kind === 'open-candy')!;
    expect(await log({ kind: logAs as 'cage-taken-out', queen: 'left-in-nuc' })).toMatchObject({
      result: 'stored',
    });
    farm.at(at(11));
    const after = await nuc();
    expect(after.plan.find(({ kind }) => kind === 'open-candy')).toMatchObject({ state: 'done' });
    expect(after.nextStep).toMatchObject({ kind: 'look-for-queen' });
    expect(after.stageText).toMatch(/^mesh lifted/);
    expect(after.gates.find(({ gate }) => gate === 'look-for-queen')).toMatchObject({ answer: 'stop' });
    expect(after.gates.find(({ gate }) => gate === 'open-candy')).toMatchObject({
      answer: 'stop',
      headline: 'She is out already',
    });
  });
});
