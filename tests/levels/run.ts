/**
 * The levels of the estimators, on simulated nucs with known truth: `npm run levels [-- --nucs 200] [--only drift] [--seed N]`.
 * Prints what was reached beside the goal, in the usual setting and in one with ranges that no estimator was tuned
 * on (the drift: in the four worlds of its own table); ends non-zero where a level of the usual setting is missed, or the
 * unseen one is more than a fifth worse. `--seed` is the first seed of a look on fresh ones.
 */
import { chillLevels } from './chill-level.ts';
import { driftLevels } from './drift-level.ts';
import { driftLimits } from './drift-limit.ts';
import { parentLevels } from './drift-parent.ts';
import { goneLevels } from './gone-level.ts';
import { introductionLevels } from './introductions-level.ts';
import { table, type Level } from './level.ts';
import { stepLevels } from './steps-level.ts';

const argument = (name: string): string | undefined => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? undefined : process.argv[at + 1];
};
const nucs = Number(argument('nucs') ?? 200);
if (!Number.isInteger(nucs) || nucs < 1) throw new Error('--nucs wants a whole number of nucs, such as 200');

const kinds: Readonly<Record<string, (seeds: readonly number[], setting: 'usual' | 'unseen') => Level[]>> = {
  drift: (seeds, setting) => (setting === 'usual' ? driftLevels(seeds) : []),
  'drift-limit': driftLimits,
  'drift-parent': (seeds, setting) => (setting === 'usual' ? parentLevels(seeds) : []),
  gone: goneLevels,
  steps: stepLevels,
  chill: chillLevels,
  introductions: (seeds, setting) => (setting === 'usual' ? introductionLevels(seeds) : []),
};
const only = argument('only');
if (only !== undefined && !kinds[only]) throw new Error(`--only knows ${Object.keys(kinds).join(', ')}`);

/** Seeds of the two settings have no number in common, and none with those that the estimators were tuned on. */
const seed = Number(argument('seed') ?? 10_000);
if (!Number.isInteger(seed) || seed < 0) throw new Error('--seed wants a whole number, such as 7');
const firstSeed = { usual: seed, unseen: seed + 890_000 };

function levelsOf(setting: 'usual' | 'unseen'): Level[] {
  const levels: Level[] = [];
  for (const [name, level] of Object.entries(kinds)) {
    if (only !== undefined && only !== name) continue;
    const seeds = Array.from({ length: nucs }, (_, i) => firstSeed[setting] + i);
    const reached = level(seeds, setting);
    if (reached.length === 0) continue;
    console.log(`${table(`${name}, ${setting} setting, ${String(seeds.length)} nucs`, reached)}\n`);
    levels.push(...reached);
  }
  return levels;
}

const usual = levelsOf('usual');
const unseen = levelsOf('unseen');
/** A share near 100 % (or a rate near 0) counts by points, an error by its ratio. */
const unseenOf = (level: Level): Level | undefined => unseen.find(({ what }) => what === level.what);
const worse = usual.filter((level) => {
  const there = unseenOf(level);
  if (!there || !level.goal) return false;
  const drop = Math.abs(there.achieved - level.achieved);
  return !there.met && drop > 0.2 * Math.max(level.achieved, 1) && there.low > level.high * 1.2;
});
/** Both settings beside each other, as ratios: an estimator that was tuned to its own test would show here. */
for (const level of usual) {
  const there = unseenOf(level);
  // Beside next to nothing a ratio says nothing.
  if (!there || !level.goal || Math.max(level.achieved, there.achieved) < 1) continue;
  const ratio = there.achieved / level.achieved;
  const meet = there.low <= level.high && level.low <= there.high;
  const over =
    Math.abs(ratio - 1) > 0.2 ? `: over a fifth apart${meet ? ', though their intervals meet' : ''}` : '';
  console.log(
    `usual ${level.achieved.toFixed(1)}, unseen ${there.achieved.toFixed(1)} ${level.unit} (× ${ratio.toFixed(2)}${over}) ${level.what}`,
  );
}
const missed = usual.filter((level) => !level.met);
for (const level of missed)
  console.log(`missed: ${level.what}: ${level.achieved.toFixed(1)} ${level.unit}, goal ${level.goal}`);
for (const level of worse) console.log(`more than a fifth worse when unseen: ${level.what}`);
process.exitCode = missed.length + worse.length > 0 ? 1 : 0;
