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

  it('keep the value for a missing end', () => {
    const bare: Figure = { value: 3, unit: 'd', source: 'a test', basis: 'derived' };
    expect([lowEnd(bare), highEnd(bare)]).toEqual([3, 3]);
  });
});
