/**
 * Memory of the server over five million readings through the embedded broker: `npm run bench:ingest-memory [count]`.
 * Prints resident memory at each twentieth; exits non-zero where the second half rises by more than a tenth.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { startChild } from '../soak/child.ts';

const total = Number(process.argv[2] ?? 5_000_000);
const folder = mkdtempSync(join(tmpdir(), 'welcomb-bench-'));
const serve = fileURLToPath(new URL('../soak/serve.ts', import.meta.url));
const load = fileURLToPath(new URL('./ingest-load.ts', import.meta.url));
const server = startChild(serve, [join(folder, 'memory.db'), 'embedded', '0', 'unlimited']);
try {
  const port = await server.answer('ready');
  const publishers = startChild(load, ['raw', port, '10', String(total)]);
  await publishers.answer('started');
  const started = performance.now();
  const marks: number[] = [];
  let stored = 0;
  while (stored < total) {
    await new Promise((resolve) => setTimeout(resolve, 200));
    server.ask('count');
    const [count = '0', rss = '0'] = (await server.answer('count')).split(' ');
    stored = Number(count);
    if (stored < (total / 20) * (marks.length + 1)) continue;
    marks.push(Math.round(Number(rss) / 1e6));
    console.log(`${String(stored)} stored: ${String(marks.at(-1))} MB`);
  }
  console.log(`${String(Math.round(total / ((performance.now() - started) / 1000)))} a second`);
  const half = marks.slice(Math.floor(marks.length / 2));
  const rise = Math.max(...half) / (half[0] ?? 1);
  console.log(`second half: at most ${rise.toFixed(2)} × its beginning`);
  process.exitCode = rise > 1.1 ? 1 : 0;
} finally {
  await server.kill('SIGTERM');
  rmSync(folder, { recursive: true, force: true });
}
