/** Whose past is evaluated next. */
import { expect, it } from 'vitest';
import { LateReadings } from '../../server/watch/late-readings.ts';
import type { LookedBack } from '../../server/watch/catch-up.ts';

const nothing: LookedBack = { alerts: new Map(), effects: [] };

function lateReadings(pressing: ReadonlySet<string>) {
  const done: string[] = [];
  const late = new LateReadings({
    *begin() {
      yield undefined;
      return nothing;
    },
    isPressing: (id) => pressing.has(id),
    done: (id) => done.push(id),
  });
  return { late, done };
}
const finish = (late: LateReadings, nowMs: number): void => {
  for (let i = 0; i < 20; i += 1) late.work(nowMs, () => false);
};

it('takes a nuc with a finding that waits for its past before those without, then each in its turn', () => {
  const { late, done } = lateReadings(new Set(['c']));
  for (const id of ['a', 'b', 'c', 'd']) late.note(id, 0, 1_000);
  finish(late, 3_000);
  expect(done).toEqual(['c', 'a', 'b', 'd']);
  expect(late.pending).toBe(false);
});

it('lets a nuc wait whose readings are still coming in, pressing or not', () => {
  const { late, done } = lateReadings(new Set(['b']));
  late.note('a', 0, 1_000);
  late.note('b', 0, 2_500);
  finish(late, 3_000);
  expect(done).toEqual(['a']);
  finish(late, 4_500);
  expect(done).toEqual(['a', 'b']);
});

it('looks back at no nuc that was taken down, begun or not', () => {
  const { late, done } = lateReadings(new Set(['begun']));
  for (const id of ['begun', 'waits', 'stands']) late.note(id, 0, 1_000);
  late.work(3_000, () => false);
  late.keepOnly(new Set(['stands']));
  finish(late, 3_000);
  expect(done).toEqual(['stands']);
});
