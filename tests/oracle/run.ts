/**
 * The agent oracle at full size: `npm run oracle [-- HISTORIES [SEED]]`, shared out among two processes. Prints
 * the counts and exits with 1 when the open gate said go although a larva could be reared, a cell stood that
 * looks could have shown, or a queen of any kind walked free that did not come from an overlooked cell.
 */
import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { merge, standardErrorsOff, tally, virginShare, type Tally } from './tally.ts';

interface Part {
  readonly histories: number;
  readonly seed: number;
  readonly misses: boolean;
}

const percent = (part: number, of: number): string =>
  of === 0 ? '–' : `${((100 * part) / of).toFixed(2)} %`;

function print(title: string, t: Tally): void {
  console.log(`\n${title}: ${String(t.histories)} histories, ${String(t.go)} go`);
  for (const [kind, { histories, go }] of Object.entries(t.byKind)) {
    console.log(`  ${kind.padEnd(22)} ${String(histories).padStart(7)}  go ${percent(go, histories)}`);
  }
  console.log(`  unsafe go: ${String(t.unsafe.length)}`);
  for (const { seed, go } of t.unsafe.slice(0, 10))
    console.log(`    seed ${String(seed)} ${JSON.stringify(go)}`);
  const { histories, goOnDay10 } = t.clean;
  console.log(
    `  clean, nothing found on day 10: go that day ${percent(goOnDay10, histories)} of ${String(histories)}`,
  );
}

function printChances(t: Tally): void {
  const { bought, own } = virginShare(t);
  console.log(
    `  virgin loose within a week after go: ${percent(bought, 1)}; own laying queen, one look: ${percent(own, 1)}`,
  );
  console.log('  stated chance of a standing cell against what came:');
  for (const bin of t.bins.filter(({ count }) => count > 0)) {
    const range = `${bin.from.toFixed(2)}-${Math.min(bin.to, 1).toFixed(2)}`;
    const shares = `stated ${percent(bin.stated, bin.count)}  came ${percent(bin.came, bin.count)}`;
    const off = `${standardErrorsOff(bin).toFixed(1)} standard errors`;
    console.log(`    ${range}  n ${String(bin.count).padStart(6)}  ${shares}  (${off})`);
  }
}

/** Runs a part in a process of its own. */
const inProcess = (part: Part): Promise<Tally> =>
  new Promise((resolve, reject) => {
    const child = fork(fileURLToPath(import.meta.url), ['--part', JSON.stringify(part)]);
    child.on('message', (message) => {
      resolve(message as Tally);
    });
    child.on('error', reject);
    child.on('exit', (code) => {
      if (code !== 0) reject(new Error(`a part of the oracle ended with ${String(code)}`));
    });
  });

async function inTwo({ histories, seed, misses }: Part): Promise<Tally> {
  const half = Math.floor(histories / 2);
  const parts = await Promise.all([
    inProcess({ histories: histories - half, seed, misses }),
    inProcess({ histories: half, seed: seed + histories - half, misses }),
  ]);
  return parts.reduce(merge);
}

async function main(histories: number, seed: number): Promise<void> {
  const startedMs = performance.now();
  const overlooked = Math.ceil(histories / 4);
  const sure = await inTwo({ histories, seed, misses: false });
  print('No cell overlooked', sure);
  console.log(`  virgin loose within a week after go: ${percent(virginShare(sure).bought, 1)}`);
  const missing = await inTwo({ histories: overlooked, seed: seed + histories, misses: true });
  print('Cells overlooked, one in eleven on average', missing);
  printChances(missing);
  console.log(`\n${((performance.now() - startedMs) / 1000).toFixed(1)} s`);
  process.exitCode = sure.unsafe.length + missing.unsafe.length > 0 ? 1 : 0;
}

const [first, second] = process.argv.slice(2);
if (first === '--part' && second !== undefined) {
  const { histories, seed, misses } = JSON.parse(second) as Part;
  process.send?.(tally(histories, seed, misses));
} else {
  const histories = Number(first ?? 100_000);
  const seed = Number(second ?? 1);
  if (!Number.isInteger(histories) || histories < 2 || !Number.isInteger(seed)) {
    console.error('Usage: npm run oracle [-- HISTORIES [SEED]], both whole numbers, at least two histories.');
    process.exit(2);
  }
  await main(histories, seed);
}
