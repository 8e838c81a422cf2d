/**
 * The whole server of a simulated season, as a child process: its clock is told by the parent, line by line. `to MS` sets
 * it and does a minute's work (what is due, every rule); the answer is `at MS RESIDENT-BYTES HEAP-BYTES`. `clock MS` sets
 * it and nothing more. `collect` collects all that is not kept: `collected HEAP-BYTES ARRAY-BYTES RESIDENT-BYTES`. Says
 * `ready HTTP MQTT` first.
 */
import '../../server/process/heap-flags.ts';
import { createInterface } from 'node:readline';
import { pino } from 'pino';
import { runServer } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';

const [data = '', from = ''] = process.argv.slice(2);
const dayMs = 86_400_000;
let nowMs = Number(from);
const settings = parseSettings(
  ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'],
  {},
  () => '',
);
if (!settings.ok) throw new Error(settings.message);
const server = await runServer(settings.settings, {
  clock: () => nowMs,
  log: pino({ level: 'error' }, pino.destination(2)),
});
process.stdout.write(`ready ${server.http} ${server.mqtt}\n`);

async function to(ms: number): Promise<void> {
  nowMs = ms;
  await server.minute();
  const rss = process.memoryUsage.rss();
  // Once a day all that is not kept is collected, so that the heap tells what is.
  if (nowMs % dayMs === 0) globalThis.gc?.();
  const { heapUsed } = process.memoryUsage();
  process.stdout.write(`at ${[nowMs, rss, heapUsed].map(String).join(' ')}\n`);
}

async function collect(): Promise<void> {
  globalThis.gc?.();
  // Arrays are given back a moment after the objects that held them.
  await new Promise((resolve) => setTimeout(resolve, 50));
  globalThis.gc?.();
  const { heapUsed, arrayBuffers, rss } = process.memoryUsage();
  process.stdout.write(`collected ${[heapUsed, arrayBuffers, rss].map(String).join(' ')}\n`);
}
createInterface({ input: process.stdin }).on('line', (line) => {
  const [word, ms] = line.split(' ');
  if (word === 'to') void to(Number(ms));
  else if (word === 'collect') void collect();
  else if (word === 'clock') {
    nowMs = Number(ms);
    process.stdout.write(`set ${String(nowMs)}\n`);
  }
});
process.on('SIGTERM', () => {
  void server.stop().then(() => process.exit(0));
});
