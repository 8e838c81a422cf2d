/**
 * Figures set wrong. The usual mutants leave numbers alone, and here numbers decide when a cage is opened: each change
 * is one that would let a keeper act too early, trust a look too much, or be warned too late.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { stripVTControlCharacters } from 'node:util';
import type { FigureChange } from './figure-change.ts';

type Change = FigureChange & { readonly name: string };

const from =
  (file: string, before: (name: string, field: string) => string) =>
  (name: string, field: string, value: string, to: string): Change => ({
    name: `${name} ${field}`.trim(),
    file: `server/${file}.ts`,
    after: before(name, field),
    from: value,
    to,
  });
const named = (name: string, field: string): string => `const ${name}: Figure = \\{[^}]*?\\b${field}: `;
const cell = from('biology/emergency-cell-figures', named);
const look = from('biology/look-figures', named);
const brood = from('biology/brood-figures', named);
/** The first number of a rule of practice is its value, the fourth argument its low end. */
const practice = from('biology/practice-figures', (name, field) =>
  field === 'value' ? `const ${name} = practice\\(\\s*` : `const ${name} = practice\\([^)]*?',\\s*`,
);
const assumedIn = (file: string) => from(`biology/${file}`, (name) => `const ${name} = assumed\\(\\s*`);
const cellAssumed = assumedIn('emergency-cell-figures');
const keeper = assumedIn('keeper-figures');

/** Figures and what they are set to. Each stands once in its file. */
export const changes: readonly Change[] = [
  look('emergedShellDays', 'high', '4', '9'),
  look('virginNoticedShare', 'value', '0.15', '0.4'),
  cell('startedAgainShare', 'value', '0.4', '0.2'),
  cell('testFrameDays', 'low', '1', '0.2'),
  look('missedCellShare', 'value', '0.09', '0.03'),
  cell('firstVirginDays', 'low', '8.5', '9.5'),
  cell('shortestCellDays', 'low', '8', '9'),
  cell('tornDownShare', 'value', '0.53', '0.8'),
  cell('cellsPerColony', 'value', '20.4', '11'),
  cell('firstCellsHours', 'low', '12', '24'),
  cell('layingWorkersWatchDays', 'value', '21', '25'),
  brood('openBroodUntilDays', 'value', '9', '8'),
  brood('droneSealedDays', 'high', '10.5', '9.5'),
  brood('rearableLimitDays', 'high', '7.5', '6.5'),
  brood('queenEmergesDays', 'low', '15', '16'),
  brood('queenEmergesDays', 'high', '17', '16'),
  brood('eggStageDays', 'high', '3.5', '5'),
  brood('youngLarvaUntilDays', 'low', '4.5', '6'),
  brood('workerEmergesDays', 'value', '21', '19'),
  practice('firstCutDay', 'value', '7', '6'),
  practice('secondLookAfterDays', 'value', '3', '1'),
  practice('cagedBeforeOpeningHours', 'value', '24', '12'),
  practice('handsOffDays', 'value', '7', '5'),
  practice('handsOffDays', 'low', '3', '2'),
  practice('pushInCageDays', 'low', '3', '2'),
  practice('framesForIntroduction', 'low', '2', '1'),
  practice('rivalChanceLimit', 'value', '0.05', '0.1'),
  practice('lookWorthChance', 'value', '0.01', '0.2'),
  keeper('layingWorkersLookDays', '', '3', '10'),
  keeper('missedCellsCounted', '', '200', '2000'),
  keeper('visitHours', '', '6', '72'),
  cellAssumed('cellNumberShape', '', '3', '1'),
  cellAssumed('lostAtSplitShare', '', '0.8', '1'),
  cellAssumed('swarmCellsUnlookedShare', '', '0.2', '0.02'),
  cell('swarmCellAgeDays', 'high', '15.5', '6'),
  // All cells alike in how easily they are missed.
  {
    name: 'hiddenCells, the odds of those that hide',
    file: 'server/biology/look-figures.ts',
    after: 'odds: 0.75, share: 0.75 \\},\\s*\\{ odds: ',
    from: '1.75',
    to: '0.75',
  },
  // The whole tables, half a day later.
  {
    name: 'startsAfterLoss and startsAgain, half a day later',
    file: 'server/introduction/cells/cell-fates.ts',
    after: 'wave.fromMs \\+ developmentMs\\(',
    from: 'start.day',
    to: 'start.day + 0.5',
  },
  {
    name: 'startsAfterLoss, half a day later',
    file: 'server/introduction/cells/cell-fates.ts',
    after: 'wave.fromMs \\+ developmentMs\\(',
    from: 'start.day',
    to: "start.day + (wave.after === 'loss' ? 0.5 : 0)",
  },
  {
    name: 'startsAgain, half a day later',
    file: 'server/introduction/cells/cell-fates.ts',
    after: 'wave.fromMs \\+ developmentMs\\(',
    from: 'start.day',
    to: "start.day + (wave.after === 'loss' ? 0 : 0.5)",
  },
];

const config = fileURLToPath(new URL('vitest.config.ts', import.meta.url));
const vitest = fileURLToPath(new URL('vitest.mjs', import.meta.resolve('vitest/package.json')));

function tested({ name: _name, ...change }: Change): 'killed' | 'survived' {
  const args = [vitest, 'run', '--config', config, '--bail', '1', '--maxWorkers', '1'];
  const { status, stdout, stderr } = spawnSync('nice', ['-n', '10', process.execPath, ...args], {
    encoding: 'utf8',
    env: { ...process.env, MUTANTS_FIGURE: JSON.stringify(change), MUTANTS_JUDGES: 'introduction,published' },
  });
  if (status === 0) return 'survived';
  const output = stripVTControlCharacters(`${stdout}${stderr}`);
  // A change that finds no place, or tests that could not start, have shown nothing.
  if (!/Tests {2}.*failed/.test(output) || output.includes('times, not once')) throw new Error(output);
  return 'killed';
}

/** @returns how many changes no test noticed. */
export function runFigures(): number {
  let survived = 0;
  for (const change of changes) {
    const result = tested(change);
    if (result === 'survived') survived++;
    console.log(`${result.padEnd(9)} ${change.name}: ${change.from} → ${change.to}`);
  }
  console.log(`${String(changes.length - survived)} of ${String(changes.length)} killed`);
  return survived;
}
