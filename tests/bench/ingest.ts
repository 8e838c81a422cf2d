/**
 * Readings a second to durable commit through MQTT at QoS 1, beside two baselines in the same run: (a) Mosquitto with
 * an mqtt.js subscriber that stores nothing, (b) bare better-sqlite3 group commits. Ratios are to (a) at the same
 * number of publishers. `npm run bench:ingest -- [scale] [runs]`.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { startMosquitto } from '../ingest/support/mosquitto.ts';
import { startChild, type Child } from '../soak/child.ts';

const scale = Number(process.argv[2] ?? 1);
const runs = Number(process.argv[3] ?? 3);
const folder = mkdtempSync(join(tmpdir(), 'welcomb-bench-'));
const serve = fileURLToPath(new URL('../soak/serve.ts', import.meta.url));
const sink = fileURLToPath(new URL('./ingest-sink.ts', import.meta.url));
const load = fileURLToPath(new URL('./ingest-load.ts', import.meta.url));
let file = 0;
const newFile = (): string => {
  file += 1;
  return join(folder, `${String(file)}.db`);
};

interface Case {
  readonly kind: 'mqttjs' | 'raw';
  readonly publishers: number;
  readonly readings: number;
}

/** Readings a second from the first publish until `receiver` has counted all of them. */
async function rateInto(
  receiver: Child,
  port: number,
  { kind, publishers, readings }: Case,
): Promise<number> {
  const child = startChild(load, [kind, String(port), String(publishers), String(readings)]);
  await child.answer('started');
  const started = performance.now();
  await child.answer('seconds');
  for (let counted = 0; counted < readings;) {
    receiver.ask('count');
    counted = Number((await receiver.answer('count')).split(' ')[0]);
    if (counted < readings) await new Promise((resolve) => setTimeout(resolve, 5));
  }
  return readings / ((performance.now() - started) / 1000);
}

async function embedded(which: Case): Promise<number> {
  const child = startChild(serve, [newFile(), 'embedded', '0', 'unlimited']);
  const port = Number(await child.answer('ready'));
  const rate = await rateInto(child, port, which);
  await child.kill('SIGTERM');
  return rate;
}

async function throughMosquitto(
  which: Case,
  program: string,
  args: (port: number) => string[],
): Promise<number> {
  // In memory: saving on every change, it would be the thing measured.
  const mosquitto = await startMosquitto(true);
  const child = startChild(program, args(mosquitto.port));
  await child.answer('ready');
  const rate = await rateInto(child, mosquitto.port, which);
  await child.kill('SIGTERM');
  await mosquitto.remove();
  return rate;
}

const baseline = (which: Case): Promise<number> => throughMosquitto(which, sink, (port) => [String(port)]);
const outside = (which: Case): Promise<number> =>
  throughMosquitto(which, serve, (port) => [newFile(), 'outside', `mqtt://127.0.0.1:${String(port)}`]);

/** Baseline (b): rows a second into one (channel, time) table, `perCommit` in a transaction, synchronous FULL. */
function bareCommits(rows: number, perCommit: number): number {
  const db = new Database(newFile());
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec('CREATE TABLE r (c INTEGER, t INTEGER, v INTEGER, PRIMARY KEY (c, t)) WITHOUT ROWID');
  const insert = db.prepare('INSERT INTO r VALUES (?, ?, ?)');
  const group = db.transaction((from: number) => {
    for (let row = from; row < from + perCommit; row += 1) insert.run(row % 10, row, row);
  });
  const started = performance.now();
  for (let from = 0; from < rows; from += perCommit) group(from);
  const rate = rows / ((performance.now() - started) / 1000);
  db.close();
  return rate;
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
async function repeated(measure: () => Promise<number>): Promise<number> {
  const rates: number[] = [];
  for (let run = 0; run < runs; run += 1) rates.push(await measure());
  return median(rates);
}

const cases: readonly Case[] = [
  { kind: 'mqttjs', publishers: 1, readings: 100_000 * scale },
  { kind: 'mqttjs', publishers: 10, readings: 100_000 * scale },
  { kind: 'raw', publishers: 10, readings: 300_000 * scale },
  { kind: 'raw', publishers: 100, readings: 500_000 * scale },
];

try {
  const whole = (rate: number): string => Math.round(rate).toLocaleString('en');
  console.log(`median of ${String(runs)} runs, readings a second`);
  for (const which of cases) {
    const a = await repeated(() => baseline(which));
    const inside = await repeated(() => embedded(which));
    const out = await repeated(() => outside(which));
    const ratio = (rate: number): string => `${whole(rate)} (${(rate / a).toFixed(2)} × a)`;
    console.log(
      `${String(which.publishers)} ${which.kind}: a ${whole(a)} | embedded ${ratio(inside)} | outside ${ratio(out)}`,
    );
  }
  for (const perCommit of [1, 100, 1000]) {
    const rate = bareCommits(perCommit === 1 ? 2000 : 200_000, perCommit);
    console.log(`b: bare better-sqlite3, ${String(perCommit)} a commit: ${whole(rate)}`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.exit(0);
