/**
 * Memory of the built server over five million readings through its embedded broker: `npm run bench:ingest-memory
 * [-- count [one-day]]`; needs a build. A hundred connections hand over what they kept, as fast as it is taken. Prints resident
 * memory at each twentieth; exits non-zero where the second half rises by more than a tenth.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { ResponseOf } from '../../server/contract/index.ts';
import { startChild } from '../soak/child.ts';
import { dropFolder, startServer } from '../support/server-process.ts';

/** A connection that sends more at once than this is slowed down, which is not what is asked here. */
const most = 5_000_000;
const connections = 100;
const total = Math.min(most, Number(process.argv[2] ?? most));
const load = fileURLToPath(new URL('./ingest-load.ts', import.meta.url));
const dayMs = 86_400_000;
const oneDay = process.argv[3] === 'one-day';
const share = total / connections;
/** One reading in so long from each: with all five million it is twelve days that are handed over, or the whole of one. */
const stepMs = oneDay ? Math.floor(dayMs / (share + 1)) : 20_000;
const firstAtMs = oneDay ? Math.floor(Date.now() / dayMs - 1) * dayMs : Date.now() - share * stepMs;
const firstMs = firstAtMs - Date.parse('2026-01-01T00:00:00Z');

/** Resident memory in MB, now (VmRSS) or at its highest (VmHWM) (Linux). */
function residentMB(pid: number, which: 'VmRSS' | 'VmHWM'): number {
  const status = readFileSync(`/proc/${String(pid)}/status`, 'utf8');
  const found = new RegExp(`^${which}:\\s+(\\d+) kB$`, 'm').exec(status);
  return Math.round((Number(found?.[1]) * 1024) / 1e6);
}

// As the unit and the container file start it.
const server = await startServer({ env: { MALLOC_ARENA_MAX: '1' } });
try {
  const { port } = new URL(server.mqtt);
  const publishers = startChild(load, [
    'raw',
    port,
    String(connections),
    String(total),
    String(Math.round(firstMs)),
    String(stepMs),
  ]);
  await publishers.answer('ready');
  publishers.ask('go');
  const started = performance.now();
  const marks: number[] = [];
  let stored = 0;
  while (stored < total) {
    await new Promise((resolve) => setTimeout(resolve, 500));
    const { ingest } = await server.get<ResponseOf<'status'>>('/api/v1/status');
    stored = ingest.stored;
    if (stored < (total / 20) * (marks.length + 1)) continue;
    marks.push(residentMB(server.process.pid ?? 0, 'VmRSS'));
    console.log(`${String(stored)} stored: ${String(marks.at(-1))} MB`);
  }
  console.log(`${String(Math.round(total / ((performance.now() - started) / 1000)))} a second`);
  console.log(`at most ${String(residentMB(server.process.pid ?? 0, 'VmHWM'))} MB`);
  const half = marks.slice(Math.floor(marks.length / 2));
  const rise = Math.max(...half) / (half[0] ?? 1);
  console.log(`second half: at most ${rise.toFixed(2)} × its beginning`);
  process.exitCode = rise > 1.1 ? 1 : 0;
} finally {
  await server.stop();
  dropFolder(server.data);
}
