/** What a wrong clock may delete: next to nothing, however far it leapt and however long it stays wrong. */
import { describe, expect, test } from 'vitest';
import { housekeeping } from '../../server/jobs/housekeeping.ts';
import type { Store } from '../../server/store/store.ts';
import { commit, day, may1, minute, reading } from '../store/support/made-up.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';

const retention = (store: Store) => {
  const jobs = housekeeping({
    store,
    timeZone: () => 'UTC',
    beat: () => Promise.resolve(),
    log: { info: () => undefined },
  });
  return (nowMs: number): void => {
    void jobs.find(({ name }) => name === 'retention')?.run(nowMs);
  };
};
const kept = (store: Store): number => store.diagnostics().readings;

function withReadings(): { store: Store; run: (nowMs: number) => void } {
  const store = temporaryStore({ nowMs: () => may1 + day });
  commit(store, ...Array.from({ length: 100 }, (_, i) => reading(may1 + i * 5 * minute, i / 100)));
  store.readings.seal({ endedBeforeMs: may1 + day });
  return { store, run: retention(store) };
}

describe('retention', () => {
  test('deletes nothing for a clock that leapt ahead by decades, nor for the nights after', () => {
    const { store, run } = withReadings();
    run(may1 + day);
    const wrong = Date.UTC(2099, 5, 1);
    for (let night = 0; night < 5; night += 1) run(wrong + night * day);
    expect(kept(store)).toBe(100);
    run(may1 + 2 * day);
    expect(kept(store)).toBe(100);
  });

  test('goes by the last night of a database that was kept by an older version', () => {
    const { store, run } = withReadings();
    store.marks.set('job retention', may1 + day);
    run(Date.UTC(2099, 5, 1));
    expect(kept(store)).toBe(100);
  });

  test('catches up after a winter without the server', () => {
    const { store, run } = withReadings();
    run(may1 + day);
    const spring = may1 + 200 * day;
    for (let night = 0; night < 40; night += 1) run(spring + night * day);
    expect(kept(store)).toBe(0);
  });
});
