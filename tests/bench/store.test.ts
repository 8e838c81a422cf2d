/** The store's bench at a small part of its size: it runs, measures what it says, and leaves nothing behind. */
import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { expect, test } from 'vitest';
import { storeBench } from './store.ts';

test('the store’s bench runs small', () => {
  const left = (): string[] => readdirSync(tmpdir()).filter((name) => name.startsWith('welcomb-bench-'));
  const before = left();
  const rows = storeBench(20_000);
  expect(left()).toEqual(before);
  expect(rows).toHaveLength(6);
  for (const { measured } of rows) expect(Number(measured)).toBeGreaterThan(0);
  // Sizes don't depend on how busy the machine is; twice the goal, as so few readings fill their pages badly.
  const sealed = rows.find(({ what }) => what.startsWith('bytes a sealed reading'));
  expect(Number(sealed?.measured)).toBeLessThan(3);
}, 120_000);
