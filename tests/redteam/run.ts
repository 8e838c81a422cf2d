/**
 * `npm run redteam`: every attack at full size against the built server, as a table; ends non-zero where one gets
 * through. `-- --small` runs the sizes of the tests; words pick the attacks whose names hold one of them.
 */
import { parseArgs } from 'node:util';
import { attempt } from './attack.ts';
import { attacks } from './attacks/index.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { small: { type: 'boolean', default: false } },
});
const size = values.small ? 'small' : 'full';
const chosen = attacks.filter(
  ({ name }) => positionals.length === 0 || positionals.some((word) => name.includes(word)),
);

let through = 0;
console.log('| attack | expected | seen | held |\n|---|---|---|---|');
for (const attack of chosen) {
  const { held, seen } = await attempt(attack, size);
  if (!held) through += 1;
  console.log(`| ${attack.name} | ${attack.expected} | ${seen} | ${held ? 'yes' : 'NO'} |`);
}
console.log(`\n${String(chosen.length - through)} of ${String(chosen.length)} attacks withstood.`);
process.exitCode = through === 0 && chosen.length > 0 ? 0 : 1;
