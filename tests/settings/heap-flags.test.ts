import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const server = join(import.meta.dirname, '../../server');

/** Fills the heap and prints the bytes of new space, before and after a thread began, all in one go. */
const program = `
  import { getHeapSpaceStatistics } from 'node:v8';
  import { Worker } from 'node:worker_threads';
  await import(${JSON.stringify(join(server, 'process/heap-flags.ts'))});
  const newSpaceAfterFilling = () => {
    const kept = [];
    for (let i = 0; i < 300_000; i += 1) kept.push({ i, own: [i] });
    return getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space').space_size;
  };
  const before = newSpaceAfterFilling();
  const began = new Int32Array(new SharedArrayBuffer(4));
  const thread = \`
    import { workerData } from 'node:worker_threads';
    import { register } from 'tsx/esm/api';
    register();
    await import(${JSON.stringify(join(server, 'process/young-part.ts'))});
    Atomics.store(workerData, 0, 1);
    Atomics.notify(workerData, 0);\`;
  new Worker(thread, { eval: true, workerData: began });
  Atomics.wait(began, 0, 0, 20_000);
  console.log(before, newSpaceAfterFilling());
`;

test('the space of new objects stays small, also once a thread has begun', () => {
  const args = ['--import', 'tsx', '--input-type=module', '--eval', program];
  const sizes = execFileSync(process.execPath, args, { encoding: 'utf8' }).trim().split(' ').map(Number);
  expect(sizes).toHaveLength(2);
  // Otherwise 32 MB, or 64 under Node 24, which with the flag takes up to 8 for a moment before it falls back to 2.
  const mostMb = Number(process.versions.node.split('.')[0]) >= 24 ? 12 : 4;
  for (const bytes of sizes) expect(bytes).toBeLessThanOrEqual(mostMb * 1024 * 1024);
});

test('each thread of the server keeps it so before all else', () => {
  const threads = ['store/backup', 'farm'].flatMap((room) =>
    readdirSync(join(server, room))
      .filter((name) => name.endsWith('-thread.ts'))
      .map((name) => readFileSync(join(server, room, name), 'utf8')),
  );
  expect(threads).toHaveLength(2);
  for (const source of threads) expect(/^import.*$/m.exec(source)?.[0]).toContain('young-part.ts');
});
