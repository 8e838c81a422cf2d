/**
 * Readings a second to durable commit through MQTT at QoS 1, beside two baselines in the same run: (a) Mosquitto with
 * an mqtt.js subscriber that stores nothing, (b) bare better-sqlite3 group commits. Ratios are to (a) at the same
 * number of publishers. The compared systems take turns, and each ratio is the median over the rounds, so that other
 * load on the machine favours none of them. Beside each rate stands the processor time that a reading took (for (a) of
 * the broker and the subscriber together) and what its publishers took, which a busy machine hardly changes. Last comes
 * the built server with rules running on live nucs and a page open, where there is a build. Exits non-zero where a goal
 * is missed. `npm run bench:ingest -- [scale] [rounds]`.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { buildSync } from 'esbuild';
import { startMosquitto } from '../ingest/support/mosquitto.ts';
import { startChild, type Child } from '../soak/child.ts';
import { isBuilt, liveRate, nucsLive } from './ingest-live.ts';
import { processorUs } from './processor-time.ts';
import { startPublishers, type Publishers } from './publishers.ts';

const scale = Number(process.argv[2] ?? 1);
const rounds = Number(process.argv[3] ?? 5);
const folder = mkdtempSync(join(tmpdir(), 'welcomb-bench-'));
/** As it ships: without the names that the loader of TypeScript keeps for every function that it meets. */
const serve = fileURLToPath(new URL('../../.cache/bench-serve.mjs', import.meta.url));
buildSync({
  entryPoints: [fileURLToPath(new URL('../soak/serve.ts', import.meta.url))],
  bundle: true,
  platform: 'node',
  format: 'esm',
  packages: 'external',
  outfile: serve,
});
const sink = fileURLToPath(new URL('./ingest-sink.ts', import.meta.url));
let file = 0;
const newFile = (): string => {
  file += 1;
  return join(folder, `${String(file)}.db`);
};

interface Case {
  readonly kind: 'mqttjs' | 'raw';
  readonly publishers: number;
  readonly readings: number;
  /** Least ratio to (a). */
  readonly goals: { readonly embedded?: number; readonly outside?: number };
}

interface Rate {
  readonly perSecond: number;
  /** For one reading, of the server or of broker and subscriber together. */
  readonly processorUs: number;
  /** For one reading, of the processes that the publishers are in. */
  readonly publisherUs: number;
}

async function hasCounted(receiver: Child, wanted: number): Promise<void> {
  for (let counted = 0; counted < wanted;) {
    receiver.ask('count');
    counted = Number((await receiver.answer('count')).split(' ')[0]);
    if (counted < wanted) await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

/** A server runs for months: what its engine does with code that it has never run is not its rate. */
const warmUps = 30_000;

/** From the first publish until `receiver` has counted all of them. */
async function rateInto(
  receiver: Child,
  port: number,
  { kind, publishers, readings }: Case,
  others: readonly number[] = [],
): Promise<Rate> {
  const send = (count: number, sensor: string): Publishers =>
    startPublishers({ kind, port, publishers, readings: count, sensor });
  const warming = send(warmUps, 'warm-');
  await warming.ready();
  await warming.go();
  await hasCounted(receiver, warmUps);
  const publishing = send(readings, 'scale-');
  await publishing.ready();
  const pids = [receiver.process.pid ?? 0, ...others];
  const publisher = publishing.pids;
  const spentUs = processorUs(pids);
  const sentUs = processorUs(publisher);
  const started = performance.now();
  // They end with their last word.
  let publisherUs = sentUs;
  const watch = setInterval(() => {
    publisherUs = Math.max(publisherUs, processorUs(publisher));
  }, 20);
  await publishing.go();
  clearInterval(watch);
  await hasCounted(receiver, warmUps + readings);
  return {
    perSecond: readings / ((performance.now() - started) / 1000),
    processorUs: (processorUs(pids) - spentUs) / readings,
    publisherUs: (publisherUs - sentUs) / readings,
  };
}

async function embedded(which: Case): Promise<Rate> {
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
): Promise<Rate> {
  // In memory: saving on every change, it would be the thing measured.
  const mosquitto = await startMosquitto(true);
  const child = startChild(program, args(mosquitto.port));
  await child.answer('ready');
  const rate = await rateInto(child, mosquitto.port, which, [mosquitto.pid()]);
  await child.kill('SIGTERM');
  await mosquitto.remove();
  return rate;
}

const baseline = (which: Case): Promise<Rate> => throughMosquitto(which, sink, (port) => [String(port)]);
const outside = (which: Case): Promise<Rate> =>
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

const cases: readonly Case[] = [
  { kind: 'mqttjs', publishers: 1, readings: 40_000 * scale, goals: { embedded: 0.8 } },
  { kind: 'mqttjs', publishers: 10, readings: 40_000 * scale, goals: { embedded: 1.2, outside: 0.8 } },
  { kind: 'raw', publishers: 10, readings: 60_000 * scale, goals: {} },
  { kind: 'raw', publishers: 100, readings: 100_000 * scale, goals: { embedded: 1.2 } },
];

const systems = { a: baseline, embedded, outside };
type System = keyof typeof systems;
type Rates = Record<System, Rate>;
const names = ['a', 'embedded', 'outside'] as const;

async function oneRound(which: Case, round: number): Promise<Rates> {
  const none = { perSecond: 0, processorUs: 0, publisherUs: 0 };
  const rates: Rates = { a: none, embedded: none, outside: none };
  for (const at of names.keys()) {
    const system = names[(at + round) % names.length] ?? 'a';
    rates[system] = await systems[system](which);
  }
  return rates;
}

const whole = (rate: number): string => Math.round(rate).toLocaleString('en');

/** One row of the table; true where its goals are met. */
async function row(which: Case): Promise<boolean> {
  const all: Rates[] = [];
  for (let round = 0; round < rounds; round += 1) all.push(await oneRound(which, round));
  let met = true;
  const rateOf = (system: System): string => whole(median(all.map((rates) => rates[system].perSecond)));
  const usOf = (system: System, whose: 'processorUs' | 'publisherUs'): string =>
    median(all.map((rates) => rates[system][whose])).toFixed(1);
  const timeOf = (system: System): string =>
    `${usOf(system, 'processorUs')} µs, publishers ${usOf(system, 'publisherUs')}`;
  const cell = (system: 'embedded' | 'outside'): string => {
    const ratio = median(all.map((rates) => rates[system].perSecond / rates.a.perSecond));
    const goal = which.goals[system];
    if (goal !== undefined && ratio < goal) met = false;
    const wanted = goal === undefined ? '' : `, goal ${String(goal)} ${ratio < goal ? 'MISSED' : 'met'}`;
    return `${system} ${rateOf(system)} (${ratio.toFixed(2)} × a${wanted}; ${timeOf(system)})`;
  };
  const cells = `${cell('embedded')} | ${cell('outside')}`;
  console.log(`${String(which.publishers)} ${which.kind}: a ${rateOf('a')} (${timeOf('a')}) | ${cells}`);
  return met;
}

/** Still true with rules and a page: the whole server beside (a) and beside its way in alone. */
async function liveRow(readings: number): Promise<void> {
  if (!isBuilt()) {
    console.warn('Left out: the server with live nucs needs a build first.');
    return;
  }
  const which: Case = { kind: 'mqttjs', publishers: 10, readings, goals: {} };
  const all: { live: Awaited<ReturnType<typeof liveRate>>; a: Rate; alone: Rate }[] = [];
  for (let round = 0; round < rounds; round += 1) {
    all.push({
      a: await baseline(which),
      live: await liveRate(10, readings, warmUps),
      alone: await embedded(which),
    });
  }
  const of = (pick: (one: (typeof all)[number]) => number): number => median(all.map(pick));
  const rate = `a ${whole(of(({ a }) => a.perSecond))} | live ${whole(of(({ live }) => live.perSecond))}`;
  const ratios = `${of(({ live, a }) => live.perSecond / a.perSecond).toFixed(2)} × a, ${of(({ live, alone }) => live.perSecond / alone.perSecond).toFixed(2)} × the way in alone`;
  const times = `${of(({ live }) => live.processorUs).toFixed(1)} µs, alone ${of(({ alone }) => alone.processorUs).toFixed(1)} µs`;
  console.log(
    `whole server, ${String(nucsLive)} nucs live and a page open, 10 mqttjs: ${rate} (${ratios}; ${times})`,
  );
}

try {
  console.log(`readings a second, median of ${String(rounds)} rounds`);
  for (const which of cases) if (!(await row(which))) process.exitCode = 1;
  await liveRow(40_000 * scale);
  for (const perCommit of [1, 100, 1000]) {
    const rate = bareCommits(perCommit === 1 ? 2000 : 200_000, perCommit);
    console.log(`b: bare better-sqlite3, ${String(perCommit)} a commit: ${whole(rate)}`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.exit();
