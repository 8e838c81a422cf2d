/** What the built server consists of: that decides how fast it starts and how much memory it takes. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const folder = join(import.meta.dirname, '../../dist/server');
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');

/** The files that are loaded with the named one, whatever happens later. */
function loadedWith(name: string, found = new Set<string>()): Set<string> {
  if (found.has(name)) return found;
  found.add(name);
  for (const [, next] of read(name).matchAll(/^(?:import|export)\b[^;]*?"\.\/([^"]+)"/gm))
    loadedWith(next ?? '', found);
  return found;
}

/** The packages and rooms that a file was made of; the bundler names each in a comment above its lines. */
function madeOf(names: Iterable<string>): Set<string> {
  const parts = new Set<string>();
  for (const name of names)
    for (const [, path] of read(name).matchAll(/^\/\/ ((?:[^\s:]+\/)+)[^/\s]+\.[cm]?[jt]s$/gm)) {
      const inside = (path ?? '').split('node_modules/').at(-1) ?? '';
      parts.add(/^(@[^/]+\/)?[^/]+/.exec(inside)?.[0] ?? '');
    }
  return parts;
}

test('the engine is told how to keep its memory before a package is loaded', () => {
  const first = [...loadedWith('main.js')];
  expect(first.some((name) => read(name).includes('--heap-growing-percent'))).toBe(true);
  expect([...madeOf(first)]).toEqual(['server']);
});

test('a start loads what a server needs, and nothing that only a mail, a demo or a broker elsewhere needs', () => {
  const serve = /import\("\.\/(serve-[^"]+)"\)/.exec(read('main.js'))?.[1] ?? 'none';
  const parts = madeOf(loadedWith(serve));
  for (const needed of ['express', 'aedes', 'zod', 'server', 'ingest']) expect(parts).toContain(needed);
  for (const later of ['nodemailer', 'mqtt', 'ws', 'simulator']) expect(parts).not.toContain(later);
  // zod's error texts in English, and not in the forty other languages.
  const languages = [...loadedWith(serve)].flatMap((name) => [
    ...read(name).matchAll(/zod\/v4\/locales\/\w+/g),
  ]);
  expect(languages.map(([path]) => path)).toEqual(['zod/v4/locales/en']);
});

test('asks for no package beside itself but the compiled SQLite', () => {
  const asked = new Set<string>();
  for (const name of readdirSync(folder).filter((file) => file.endsWith('.js')))
    for (const [, from] of read(name).matchAll(/^(?:import|export)\b[^;"]*?"([^"./][^"]*)";$/gm))
      if (!from?.startsWith('node:')) asked.add(from ?? '');
  const builtIn = new Set(process.getBuiltinModule('node:module').builtinModules);
  expect([...asked].filter((name) => !builtIn.has(name))).toEqual(['better-sqlite3']);
});

test('carries the licence of every package in it', () => {
  const files = readdirSync(folder).filter((file) => file.endsWith('.js'));
  const packages = [...madeOf(files)].filter((name) => !['server', 'ingest', 'simulator'].includes(name));
  expect(packages.length).toBeGreaterThan(50);
  const licences = read('licences.txt');
  expect(packages.filter((name) => !licences.includes(`\n${name} `))).toEqual([]);
  expect(licences).not.toContain('No licence text');
});

test('is kept by the engine at one byte a letter, without tables of encodings that are refused', () => {
  for (const name of readdirSync(folder).filter((file) => file.endsWith('.js'))) {
    expect(/[^\0-\x7f]/.exec(read(name))?.[0], name).toBeUndefined();
    expect(read(name), name).not.toContain('iconv-lite/encodings/tables');
  }
});
