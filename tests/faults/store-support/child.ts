/**
 * A process that is made to be killed. `child.ts FILE pour FROM` commits numbered readings and seals for ever, and
 * writes after each commit how many are durable. `child.ts FILE die-at STEP` seals and kills itself at a step.
 * `child.ts FILE hold` holds the write lock until it is killed.
 */
import { writeSync } from 'node:fs';
import Database from 'better-sqlite3';
import { HotDays } from '../../../server/store/readings/hot-days.ts';
import { RollupDays } from '../../../server/store/readings/rollup-days.ts';
import { SealedDays } from '../../../server/store/readings/sealed-days.ts';
import { openStore } from '../../../server/store/store.ts';
import { numberedBatch, numberedFromMs } from './numbered.ts';

const [file = '', what, argument = ''] = process.argv.slice(2);
const say = (line: string): void => {
  writeSync(1, `${line}\n`);
};
const die = (): void => {
  process.kill(process.pid, 'SIGKILL');
};

function pour(from: number): never {
  const store = openStore({ file });
  for (let k = from, round = 0; ; round += 1) {
    store.ingest.commit({ readings: numberedBatch(k, 50), quarantined: [], lastKnown: [] });
    k += 50;
    say(String(k));
    if (round % 3 === 2) {
      store.readings.seal({ endedBeforeMs: numberedFromMs + (round % 7) * 86_400_000, mostDays: 3 });
    }
  }
}

/** Kills at the first call, before it does anything or right after it. */
function dieAt(target: object, method: string, when: 'before' | 'after'): void {
  const methods = target as Record<string, (...args: unknown[]) => unknown>;
  const original = methods[method]!;
  methods[method] = function killing(...args: unknown[]) {
    if (when === 'before') die();
    const result = original.apply(this, args);
    die();
    return result;
  };
}

const steps: Readonly<Record<string, () => void>> = {
  'before-blobs': () => dieAt(SealedDays.prototype, 'write', 'before'),
  'after-blobs': () => dieAt(SealedDays.prototype, 'write', 'after'),
  'after-rollup': () => dieAt(RollupDays.prototype, 'write', 'after'),
  'after-hot-rows': () => dieAt(HotDays.prototype, 'removeDay', 'after'),
  'after-commit': () => dieAt(HotDays.prototype, 'forget', 'before'),
};

if (what === 'pour') pour(Number(argument));
if (what === 'die-at') {
  const store = openStore({ file });
  steps[argument]?.();
  store.readings.seal({ endedBeforeMs: numberedFromMs + 7 * 86_400_000 });
  say('survived');
}
if (what === 'hold') {
  const db = new Database(file);
  db.exec('BEGIN IMMEDIATE');
  say('held');
  // Nothing else keeps the process alive.
  setInterval(() => db.open, 60_000);
}
