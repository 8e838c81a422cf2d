import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { chartSchema } from '../../server/contract/chart.ts';
import { createFarm } from '../../server/service/farm-service.ts';
import { openStore } from '../../server/store/store.ts';
import { createEventsHub } from '../../server/views/events-hub.ts';
import { makeLiveFarm } from '../bench/live-farm.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const dayMs = 86_400_000;
const nowMs = Date.UTC(2026, 5, 1, 9);

it('is a chart as the contract has it, with single readings or with buckets, and a gap where a sensor took over', async () => {
  const folder = newFolder();
  makeLiveFarm(folder, 1, nowMs, 40);
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  // The cage's probe reads the brood frame, too, from noon of the day before on.
  const handedOverMs = nowMs - dayMs;
  const [brood, cage] = ['brood', 'cage'].map((position) =>
    store.places.listAssignments().find((one) => one.position === position),
  );
  store.places.changeAssignment(brood?.id ?? -1, { toMs: handedOverMs });
  store.places.changeAssignment(cage?.id ?? -1, { toMs: handedOverMs });
  store.places.assign({
    channelId: cage?.channelId ?? -1,
    owner: { hiveId: 'nuc-0' },
    position: 'brood',
    fromMs: handedOverMs,
    toMs: null,
  });
  const events = createEventsHub();
  const onError = (error: unknown): void => {
    throw error;
  };
  const farm = createFarm({ store, events, clock: () => nowMs, startedAtMs: nowMs, onError });
  onTestFinished(() => {
    farm.stop();
    events.close();
    store.close();
    dropFolder(folder);
  });
  for (const days of [2, 40]) {
    const from = new Date(nowMs - days * dayMs).toISOString();
    const answer = await farm.views.chart('nuc-0', { from, pixels: 400, suspect: true }, nowMs);
    const chart = chartSchema.strict().parse(answer);
    expect(chart.series.map(({ place }) => place)).toEqual(['scale', 'brood', 'cage']);
    const [weight, nest] = chart.series;
    expect(weight?.points.length).toBeGreaterThan(200);
    expect(weight?.points[0]).toHaveLength(days === 2 ? 2 : 4);
    expect(nest?.points.filter(([, value]) => value === null)).toEqual([[handedOverMs, null]]);
    const instants = nest?.points.map(([at]) => at ?? NaN) ?? [];
    expect(instants).toEqual(instants.toSorted((a, b) => a - b));
  }
  expect(await farm.views.chart('no-such-nuc', { pixels: 400, suspect: false }, nowMs)).toBeUndefined();
});
