/** An outside probe that stands in a house, in a hive or in the sun is noticed; one that hangs outside never is. */
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { outsideMisplaced } from '../../server/rules/catalogue/sensors/outside-misplaced.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import type { Series } from '../../server/signals/types.ts';
import { watchChannels } from '../../server/watch/channel-watch.ts';
import { secondWorld } from '../levels/second-generator.ts';
import { montreal, present, sydneyTemperature } from '../open-data/data.ts';
import { channelInput, channelSubject } from '../rules/made-up.ts';
import { made, outsideC, ripple } from '../signals/made.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const dayMs = 86_400_000;
const fromMs = Date.UTC(2026, 4, 12);
const limits = limitsFor(outsideMisplaced, channelSubject, noLimitSettings);
let folder = '';
let store: Store;
beforeEach(() => {
  folder = newFolder();
  store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => Date.now() });
});
afterEach(() => {
  store.close();
  dropFolder(folder);
});

/** Noons, from the sixth on, at which it is told. */
function toldOf({ atMs, value }: Series): string[] {
  const readings = Array.from(atMs, (observedAtMs, i): IncomingReading => ({
    sensor: 'air',
    quantity: 'temperature',
    probe: '',
    unit: 'Cel',
    value: value[i] as number,
    observedAtMs,
    receivedAtMs: observedAtMs,
  }));
  store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
  const [channel] = store.channels.list();
  if (!channel) throw new Error('no channel');
  const watch = watchChannels(store);
  const first = Math.ceil((atMs[0] ?? 0) / dayMs) * dayMs;
  const told: string[] = [];
  for (let nowMs = first + 5.5 * dayMs; nowMs <= (atMs.at(-1) ?? 0); nowMs += dayMs) {
    const input = channelInput(watch.health(channel, 'outside', nowMs), nowMs);
    if (outsideMisplaced.evaluate(input, limits).verdict === 'yes')
      told.push(new Date(nowMs).toISOString().slice(0, 10));
  }
  return told;
}
const days = (n: number, of: (h: number) => number): Series =>
  made(fromMs, fromMs + n * dayMs, (h) => of(h) + ripple(h, 0.1), 30);

describe('an outside probe', () => {
  it('that lies in a house is told once five days were read', () => {
    expect(toldOf(days(7, (h) => outsideC(h % 24, 21, 1.2)))).toEqual(['2026-05-17', '2026-05-18']);
  });
  it('that lies in a nest is told', () => {
    expect(toldOf(days(7, () => 34.6))).toHaveLength(2);
  });
  it('that hangs in the sun is told', () => {
    expect(toldOf(days(7, (h) => outsideC(h % 24, 32, 16)))).toHaveLength(2);
  });
  it('that was hung outside is told no more once it has seen a night', () => {
    const hungOut = (h: number): number => (h < 6 * 24 ? 21 : outsideC(h % 24));
    expect(toldOf(days(8, hungOut))).toEqual(['2026-05-17']);
  });
  it('that missed a day says nothing', () => {
    const { atMs, value } = days(7, () => 21);
    const kept = Array.from(atMs.keys()).filter((i) => i < 96 || i > 150);
    const pick = (all: Float64Array) => Float64Array.from(kept, (i) => all[i] as number);
    expect(toldOf({ atMs: pick(atMs), value: pick(value) })).toEqual([]);
  });
  it.each(['ordinary', 'rain-held', 'cold-spring'] as const)(
    'of the second generator never is, %s',
    (weather) => {
      const { atMs, outsideC: value } = secondWorld(7, { days: 60, weather });
      expect(toldOf({ atMs, value })).toEqual([]);
    },
  );
  it.skipIf(!present)('of a summer in Montreal never is', () => {
    expect(toldOf(montreal(3627).outside)).toEqual([]);
  });
  it.skipIf(!present)('of a year in Sydney never is', () => {
    expect(toldOf(sydneyTemperature('2016-A').outside)).toEqual([]);
  });
});
