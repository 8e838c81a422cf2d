import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { smallHeap, heapGrowth } from '../../server/process/heap-growth.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

test('the engine has room from the first large commit until ten seconds after the last one', () => {
  const flags: string[] = [];
  const growth = heapGrowth((flag) => flags.push(flag));
  const taken = (): string[] => flags.splice(0);
  growth.committed(40);
  expect(taken()).toEqual([]);
  growth.committed(2000);
  expect(taken()).toEqual(['--heap-growing-percent=0', '--semi-space-growth-factor=2']);
  vi.advanceTimersByTime(9000);
  growth.committed(2000);
  vi.advanceTimersByTime(9000);
  expect(taken()).toEqual([]);
  vi.advanceTimersByTime(1000);
  expect(taken()).toEqual(['--heap-growing-percent=15', '--semi-space-growth-factor=1']);
  growth.committed(2000);
  expect(taken()).toHaveLength(2);
});

test('what is taken back is what the server starts with', () => {
  const start = ['heap-flags', 'young-part'].map((name) =>
    readFileSync(new URL(`../../server/process/${name}.ts`, import.meta.url), 'utf8'),
  );
  expect(start.join('').match(/--[a-z-]+=\d+/g)).toEqual([...smallHeap]);
});
