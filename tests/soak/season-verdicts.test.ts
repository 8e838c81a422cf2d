/** How a season is judged: memory that grows is found among days that go up and down, and a lost reading is one. */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { Acknowledged } from './acknowledged.ts';
import { tellMemory } from './season-verdicts.ts';

const days = (growthMb: number, length = 80) =>
  Array.from({ length }, (_, day) => ({
    residentMb: 200 + 15 * Math.sin(day) + growthMb * day,
    leastHeapMb: 50 + (day % 3) + (growthMb * day) / 4,
  }));

it('memory that goes up and down is flat, memory that grows by a megabyte and a half a day is not', () => {
  expect(tellMemory(days(0)).map(({ ok }) => ok)).toEqual([true, true]);
  expect(tellMemory(days(1.5)).map(({ ok }) => ok)).toEqual([false, false]);
  expect(tellMemory(days(1.5, 24)).map(({ ok, goal }) => [ok, goal.includes('judged from 60 days')])).toEqual(
    [
      [true, true],
      [true, true],
    ],
  );
});

it('what was acknowledged is looked for with its instant and its value, but for what a restore gave up', () => {
  const file = join(temporaryFolder(), 'welcomb.db');
  const store = openStore({ file });
  const reading = { sensor: 'box', quantity: 'weight', probe: '', unit: 'kg' } as const;
  store.ingest.commit({
    readings: [1, 2].map((i) => ({ ...reading, value: i, observedAtMs: i * 1000, receivedAtMs: i * 1000 })),
    quarantined: [],
    lastKnown: [],
  });
  store.close();
  const acknowledged = new Acknowledged();
  const sent = (storedMs: number, value: number) => ({
    topic: '',
    payload: '',
    key: 'box/weight/',
    storedMs,
    value,
  });
  acknowledged.take(sent(1000, 1), 1000);
  acknowledged.take(sent(2000, 3), 2000);
  acknowledged.take(sent(3000, 3), 3000);
  expect(acknowledged.check(file)).toEqual({ lost: 1, wrong: 1 });
  expect(acknowledged.check(file, 2000)).toEqual({ lost: 0, wrong: 1 });
  acknowledged.restoreTo(2000);
  expect(acknowledged.check(file)).toEqual({ lost: 0, wrong: 1 });
  expect(acknowledged.givenUp).toBe(1);
});
