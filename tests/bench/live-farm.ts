/** Nucs in the middle of an introduction, with days of history, written straight into a store. */
import { join } from 'node:path';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';

const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;
const everyMs = 10 * minuteMs;

/** What a nuc's sensors tell at an instant; the values move as a day does. */
export function readingsOf(nuc: number, atMs: number): IncomingReading[] {
  const day = Math.sin((2 * Math.PI * atMs) / dayMs);
  const common = { sensor: `node-${String(nuc)}`, observedAtMs: atMs, receivedAtMs: atMs };
  const noise = ((nuc * 7919 + atMs / minuteMs) % 17) / 100;
  return [
    { ...common, quantity: 'weight', probe: '', unit: 'kg', value: 12 + 0.05 * day + noise / 10 },
    { ...common, quantity: 'temperature', probe: 'brood', unit: 'Cel', value: 34.5 + noise },
    { ...common, quantity: 'temperature', probe: 'cage', unit: 'Cel', value: 31 + day + noise },
    { ...common, quantity: 'battery', probe: '', unit: 'V', value: 3.9 },
  ];
}

const positions = ['scale', 'brood', 'cage'] as const;

function addNuc(store: Store, nuc: number, nowMs: number, days: number): void {
  const id = `nuc-${String(nuc)}`;
  const splitMs = nowMs - 5 * dayMs;
  const box = { kind: 'wood', emptyKg: 6 };
  store.places.putHive({ id, siteId: 's1', role: 'nuc', name: id, box, createdAtMs: splitMs });
  const introductionId = `introduction-${String(nuc)}`;
  store.introductions.open({
    id: introductionId,
    nucId: id,
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: {},
    openedAtMs: splitMs,
  });
  store.introductions.append([
    {
      type: 'fact',
      id: `split-of-${id}`,
      introductionId,
      happenedAtMs: splitMs,
      writtenAtMs: splitMs,
      fact: {
        kind: 'split-made',
        framesOfBees: 3,
        framesOfSealedBrood: 1,
        framesOfOpenBrood: 1,
        framesOfStores: 1,
        oldQueen: 'seen-in-parent',
        cellsAlreadyThere: 'none',
      },
    },
  ]);
  for (let fromMs = nowMs - days * dayMs; fromMs < nowMs; fromMs += 30 * dayMs) {
    const readings: IncomingReading[] = [];
    for (let atMs = fromMs; atMs < Math.min(nowMs, fromMs + 30 * dayMs); atMs += everyMs)
      readings.push(...readingsOf(nuc, atMs));
    store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
  }
  const own = store.channels.list().filter(({ sensor }) => sensor === `node-${String(nuc)}`);
  for (const channel of own) {
    const position = positions.find((one) =>
      one === 'scale' ? channel.quantity === 'weight' : channel.probe === one,
    );
    if (position)
      store.places.assign({
        channelId: channel.id,
        owner: { hiveId: id },
        position,
        fromMs: Math.min(splitMs, nowMs - days * dayMs),
        toMs: null,
      });
  }
}

export function makeLiveFarm(folder: string, nucs: number, nowMs: number, days = 10): void {
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  store.places.putSite({ id: 's1', name: 'Lower field', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
  for (let nuc = 0; nuc < nucs; nuc += 1) addNuc(store, nuc, nowMs, days);
  while (store.readings.seal().more);
  store.close();
}
