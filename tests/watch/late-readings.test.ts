/** Whose past is evaluated next. */
import { describe, expect, it } from 'vitest';
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

describe('a backlog that comes in small parts', () => {
  const second = 1_000;
  const minute = 60 * second;

  /** A slow board: a look back takes a minute and a half, a step a second. */
  function slowBoard() {
    const begun: { atMs: number; fromMs: number }[] = [];
    const doneMs: number[] = [];
    const late = new LateReadings({
      *begin(_nucId, fromMs, atMs) {
        begun.push({ atMs, fromMs });
        for (let i = 0; i < 90; i += 1) yield undefined;
        return nothing;
      },
      isPressing: () => false,
      done: (_nucId, _result, nowMs) => doneMs.push(nowMs),
    });
    return { late, begun, doneMs };
  }

  it('does not start the look back over: it ends, and one more sees what came meanwhile', () => {
    const { late, begun, doneMs } = slowBoard();
    for (let nowMs = 0; nowMs <= 65 * minute; nowMs += second) {
      // For an hour, each part tells of five minutes later.
      if (nowMs < 60 * minute && nowMs % (30 * second) === 0) late.note('a', nowMs * 10, nowMs);
      late.work(nowMs, () => false);
    }
    expect(doneMs[0]).toBeLessThan(7 * minute);
    expect(doneMs.length).toBeGreaterThan(8);
    expect(late.pending).toBe(false);
    // The last one began after the last part.
    expect(begun.at(-1)?.atMs).toBeGreaterThanOrEqual(59.5 * minute);
    // None went further back than what had come since the one that ended before it.
    for (const endedMs of doneMs.slice(0, -1)) {
      const before = begun.findLast(({ atMs }) => atMs < endedMs);
      const after = begun.find(({ atMs }) => atMs >= endedMs);
      expect(after?.fromMs).toBeGreaterThan((before?.atMs ?? Infinity) * 10);
    }
  });

  it('is one look back where its parts come within minutes: what is over by the last is told to nobody', () => {
    const { late, begun, doneMs } = slowBoard();
    for (let nowMs = 0; nowMs <= 10 * minute; nowMs += second) {
      if (nowMs < 4 * minute && nowMs % (30 * second) === 0) late.note('a', 500 + nowMs, nowMs);
      late.work(nowMs, () => false);
    }
    expect(doneMs).toHaveLength(1);
    expect(begun.at(-1)).toMatchObject({ fromMs: 500 });
  });

  it('is looked at within minutes, although the parts come every second', () => {
    const { late, begun } = slowBoard();
    for (let nowMs = 0; nowMs <= 15 * minute; nowMs += second) {
      late.note('a', 0, nowMs);
      late.work(nowMs, () => false);
    }
    expect(begun[0]?.atMs).toBe(5 * minute);
    expect(begun.length).toBe(2);
  });

  it('starts over where a sensor was put to another place: what was looked at was not the nuc’s', () => {
    const { late, begun, doneMs } = slowBoard();
    late.note('a', 500, 0);
    for (let nowMs = 0; nowMs <= 10 * second; nowMs += second) late.work(nowMs, () => false);
    late.startOver('a', 10 * second);
    for (let nowMs = 11 * second; nowMs <= 5 * minute; nowMs += second) late.work(nowMs, () => false);
    expect(begun.map(({ fromMs }) => fromMs)).toEqual([500, -Infinity]);
    expect(doneMs).toHaveLength(1);
  });
});
