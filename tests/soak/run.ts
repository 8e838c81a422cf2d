/** `npm run soak [-- kills [seed]]`: the long run, with both ways in. Exits non-zero where a reading was lost. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { mosquitto } from '../support/programs.ts';
import { soak } from './soak.ts';

const kills = Number(process.argv[2] ?? 50);
const seed = Number(process.argv[3] ?? 1);
let failed = false;
for (const way of ['embedded', 'mosquitto'] as const) {
  if (way === 'mosquitto' && mosquitto === undefined) {
    console.log('mosquitto is not installed: that half was not run');
    continue;
  }
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-soak-'));
  try {
    const brokerRestarts = way === 'mosquitto' ? 5 : 0;
    const result = await soak({ way, kills, brokerRestarts, seed, folder, onProgress: console.log });
    console.log(JSON.stringify({ way, ...result }));
    failed ||= result.lost > 0 || result.wrong > 0 || result.conflicts > 0 || result.acknowledged === 0;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
process.exit(failed ? 1 : 0);
