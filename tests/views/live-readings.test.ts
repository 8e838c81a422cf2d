/** What open pages hear of a reading: with the doubt that the server has in it. */
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import type { EventsHub } from '../../server/views/events-hub.ts';
import type { SuspectReason } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { liveReadings } from '../../server/views/live-readings.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const nowMs = Date.parse('2026-06-10T08:00:00Z');
const folder = newFolder();
let store: Store | undefined;
afterEach(() => {
  store?.close();
  dropFolder(folder);
});

it('an error value is told as one, a jump as doubtful, and a good reading as it is', () => {
  const opened = (store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs }));
  const heard: LiveEvent[] = [];
  const hub = { clients: 1, publish: (event: LiveEvent) => heard.push(event) } as unknown as EventsHub;
  const show = liveReadings(opened, hub, () => ({
    nucs: [],
    sites: [],
    ofChannel: new Map(),
    nucsOfSite: new Map(),
  }));
  const send = (value: number, atMs: number, suspect?: SuspectReason): LiveEvent | undefined => {
    const reading = { sensor: 'probe', quantity: 'temperature', probe: '', unit: 'Cel', value } as const;
    const at = { observedAtMs: atMs, receivedAtMs: atMs };
    const readings = [{ ...reading, ...at, ...(suspect && { suspect }) }];
    show(opened.ingest.commit({ readings, quarantined: [], lastKnown: [] }), atMs);
    return heard.at(-1);
  };
  expect(send(-127, nowMs, 'sentinel')).toMatchObject({ value: -127, suspect: true, impossible: true });
  expect(send(20, nowMs + 60_000, 'spike')).toMatchObject({ value: 20, suspect: true });
  expect(heard.at(-1)).not.toHaveProperty('impossible');
  expect(send(34.5, nowMs + 120_000)).toMatchObject({ value: 34.5, suspect: false });
});
