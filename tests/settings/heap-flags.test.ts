import { execFileSync } from 'node:child_process';
import { expect, test } from 'vitest';

/** Fills the heap and prints the bytes of new space, before and after a thread came and went. */
const program = (flags: URL): string => `
  import { getHeapSpaceStatistics } from 'node:v8';
  import { Worker } from 'node:worker_threads';
  await import(${JSON.stringify(flags.href)});
  const newSpaceAfterFilling = () => {
    const kept = [];
    for (let i = 0; i < 300_000; i += 1) kept.push({ i, own: [i] });
    return getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space').space_size;
  };
  const before = newSpaceAfterFilling();
  new Worker('', { eval: true }).on('exit', () => console.log(before, newSpaceAfterFilling()));
`;

test('the space of new objects stays small, also once a thread has run', () => {
  const flags = new URL('../../server/process/heap-flags.ts', import.meta.url);
  const args = ['--import', 'tsx', '--input-type=module', '--eval', program(flags)];
  const sizes = execFileSync(process.execPath, args, { encoding: 'utf8' }).trim().split(' ').map(Number);
  expect(sizes).toHaveLength(2);
  for (const bytes of sizes) expect(bytes).toBeLessThanOrEqual(4 * 1024 * 1024);
});
