/**
 * The agent oracle at full size: `npm run oracle [-- HISTORIES [SEED]]`. Prints the counts and exits with 1
 * when the open gate said go although a larva could be reared, a cell stood that looks could have shown, or
 * a queen of any kind walked free that did not come from an overlooked cell.
 */
import { tally, type Tally } from './tally.ts';

const histories = Number(process.argv[2] ?? 100_000);
const seed = Number(process.argv[3] ?? 1);
if (!Number.isInteger(histories) || histories < 1 || !Number.isInteger(seed)) {
  console.error('Usage: npm run oracle [-- HISTORIES [SEED]], both whole numbers.');
  process.exit(2);
}

const percent = (part: number, of: number): string =>
  of === 0 ? '–' : `${((100 * part) / of).toFixed(2)} %`;

function print(title: string, t: Tally): void {
  console.log(`\n${title}: ${String(t.histories)} histories, ${String(t.go)} go`);
  for (const [kind, { histories: n, go }] of Object.entries(t.byKind)) {
    console.log(`  ${kind.padEnd(22)} ${String(n).padStart(7)}  go ${percent(go, n)}`);
  }
  console.log(`  unsafe go: ${String(t.unsafe.length)}`);
  for (const { seed: at, go } of t.unsafe.slice(0, 10))
    console.log(`    seed ${String(at)} ${JSON.stringify(go)}`);
  console.log(
    `  clean, nothing found on day 10: go that day ${percent(t.clean.goOnDay10, t.clean.histories)} of ${String(t.clean.histories)}`,
  );
}

const startedMs = performance.now();
const sure = tally(histories, seed, false);
print('No cell overlooked', sure);
const missing = tally(Math.ceil(histories * 0.4), seed + histories, true);
print('Cells overlooked, one in eleven on average', missing);
console.log(`  virgin loose within a week after go: ${percent(missing.virginWithinAWeek, missing.go)}`);
console.log('  stated chance of a standing cell against what came:');
for (const b of missing.bins) {
  const off = (b.came - b.stated) / b.standardError;
  console.log(
    `    ${b.from.toFixed(2)}-${Math.min(b.to, 1).toFixed(2)}  n ${String(b.count).padStart(6)}  stated ${percent(b.stated, 1)}  came ${percent(b.came, 1)}  (${off.toFixed(1)} standard errors)`,
  );
}
console.log(`\n${((performance.now() - startedMs) / 1000).toFixed(1)} s`);
process.exitCode = sure.unsafe.length + missing.unsafe.length > 0 ? 1 : 0;
