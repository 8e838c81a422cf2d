/** What an alert tells to do needs things: they stand in the list of the site. Common practice. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { helpToBring } from '../../server/views/alerts/help-to-bring.ts';

const catalogue = join(import.meta.dirname, '../../server/rules/catalogue');
const needs: readonly (readonly [RegExp, string])[] = [
  [/insulat/i, 'insulation'],
  [/narrow (the|its) entrance/i, 'entrance block'],
  [/^[^.]*\bshade\b/i, 'shade board'],
  [/bees shaken off/i, 'brush'],
  [/test frame|frame with eggs/i, 'frame with eggs and young larvae'],
  [/look for eggs|queen or eggs/i, 'torch'],
  [/charged battery/i, 'battery'],
  [/known weight/i, 'known weight'],
  [/cable/i, 'spare cable'],
  [/cluster/i, 'box for a swarm'],
];

const rules = readdirSync(catalogue, { recursive: true, encoding: 'utf8' }).flatMap((name) => {
  const text = name.endsWith('.ts') ? readFileSync(join(catalogue, name), 'utf8') : '';
  const id = /defineRule\(\{\s*id: '([a-z-]+)'/.exec(text)?.[1];
  const advice = /\btodo:([\s\S]*?)\bseen:/.exec(text)?.[1] ?? '';
  return id === undefined ? [] : [{ id, advice }];
});

it('every rule is read', () => {
  expect(rules.length).toBeGreaterThan(30);
  expect(rules.filter(({ advice }) => advice !== '').length).toBeGreaterThan(25);
});

it.each(rules)('$id', ({ id, advice }) => {
  const wanted = needs.filter(([words]) => words.test(advice)).map(([, thing]) => thing);
  expect(helpToBring(id)).toEqual(expect.arrayContaining(wanted));
});
