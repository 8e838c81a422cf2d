import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import * as figures from '../../server/biology/figures.ts';
import { highEnd, lowEnd, type Figure } from '../../server/biology/figures.ts';

const isFigure = (value: unknown): value is Figure =>
  typeof value === 'object' && value !== null && 'basis' in value && 'unit' in value;
const all = Object.entries(figures).filter((entry): entry is [string, Figure] => isFigure(entry[1]));

describe('the figures of bee biology', () => {
  it('are there', () => {
    expect(all.length).toBeGreaterThan(50);
  });

  it.each(all)(
    '%s has a spread around its value, a unit, and a source that fits its basis',
    (_name, figure) => {
      expect(lowEnd(figure)).toBeLessThanOrEqual(figure.value);
      expect(highEnd(figure)).toBeGreaterThanOrEqual(figure.value);
      expect(figure.unit).not.toBe('');
      expect(figure.source.length).toBeGreaterThan(5);
      if (figure.basis === 'from-memory') expect(figure.source).not.toMatch(/^Common practice/);
      if (figure.basis === 'common-practice')
        expect(figure.source).toMatch(/common practice|keeper|nuc|estimate/);
      // What nobody states is not passed off as practice, nor practice as read somewhere.
      if (figure.basis === 'assumed') expect(figure.source).toMatch(/nobody states/);
      else expect(figure.source).not.toMatch(/nobody states|no source/);
      if (figure.basis === 'published' || figure.basis === 'seen-quoted')
        expect(figure.source).toMatch(/(1[89]|20)\d\d|Queensland|Betts/);
    },
  );

  it('are each used by the code, not only kept', () => {
    const server = join(import.meta.dirname, '../../server');
    const code = readdirSync(server, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFileSync(join(server, name), 'utf8').replaceAll(/import [^;]*;/g, ''))
      .join('\n');
    const words = new Map<string, number>();
    for (const [word] of code.matchAll(/\w+/g)) words.set(word, (words.get(word) ?? 0) + 1);
    expect(all.map(([name]) => name).filter((name) => (words.get(name) ?? 0) < 2)).toEqual([]);
  });

  it('keep the value for a missing end', () => {
    const bare: Figure = { value: 3, unit: 'd', source: 'a test', basis: 'derived' };
    expect([lowEnd(bare), highEnd(bare)]).toEqual([3, 3]);
  });
});
