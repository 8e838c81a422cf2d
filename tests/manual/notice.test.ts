/** The notice of sources names every text of which a figure was taken. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import * as figures from '../../server/biology/figures.ts';

const lines = readFileSync(join(import.meta.dirname, '../../NOTICE.md'), 'utf8').split('\n');

/** Of texts that were read or quoted. */
function sources(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  const { source, basis } = value as { source?: unknown; basis?: unknown };
  if (typeof source !== 'string') return Object.values(value).flatMap(sources);
  return basis === 'published' || basis === 'seen-quoted' ? [source] : [];
}

/** First author and year: "Fell and Morse 1984", "Hatch, Tarpy and Fletcher 1999", "Jones et al. 2005". */
const cited = /([A-Z]\p{L}+)(?:,? (?:and )?[A-Z]\p{L}+)*(?: et al\.)? ((?:19|20)\d{2})(?!:)/gu;

test('each author and year of a figure’s source stands in it', () => {
  const found = new Set(
    sources(figures).flatMap((source) =>
      [...source.matchAll(cited)].map(([, author = '', year = '']) => `${author} ${year}`),
    ),
  );
  expect(found.size).toBeGreaterThan(12);
  const missing = [...found].filter((one) => {
    const [author = '', year = ''] = one.split(' ');
    return !lines.some((line) => line.includes(author) && line.includes(year));
  });
  expect(missing).toEqual([]);
});
