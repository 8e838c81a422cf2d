/** The bundle's short table of kinds of files gives what the page sends the same names as the whole one. */
import { readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { extname, join } from 'node:path';
import { expect, it } from 'vitest';
import { kindsSent } from '../../server/packaging/kinds-of-files.ts';

interface Kind {
  readonly extensions?: readonly string[];
  readonly compressible?: boolean;
}
const ofExpress = createRequire(createRequire(import.meta.url).resolve('express'));
const all = ofExpress('mime-db') as Record<string, Kind>;
const few = kindsSent(all);
const built = readdirSync(join(import.meta.dirname, '../../dist/dashboard'), { recursive: true });

const namesOf = (kinds: Record<string, Kind>, extension: string): string[] =>
  Object.keys(kinds).filter((type) => kinds[type]?.extensions?.includes(extension));

it('knows every kind of file of the page, as the whole table does', () => {
  const extensions = new Set(built.map((file) => extname(String(file)).slice(1)).filter((one) => one !== ''));
  expect(extensions.size).toBeGreaterThan(5);
  for (const extension of extensions) {
    expect(namesOf(few, extension).length, extension).toBeGreaterThan(0);
    expect(namesOf(few, extension)).toEqual(namesOf(all, extension));
  }
});

it('knows the bodies of requests, and a hundredth of the rest', () => {
  for (const type of ['application/json', 'application/x-www-form-urlencoded', 'text/csv', 'text/calendar'])
    expect(few[type]).toEqual(all[type]);
  expect(Object.keys(few).length).toBeLessThan(Object.keys(all).length / 50);
});
