import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alignedOn, extentOf } from '../../dashboard/rail/aligned.ts';
import { evenScale, pathOf, pointAt, rowScale } from '../../dashboard/rail/frame.ts';
import type { Frame } from '../../dashboard/rail/frame.ts';
import { lanesUsed, placeLabels, wordsWidth } from '../../dashboard/rail/labels.ts';
import { rowsOf } from '../../dashboard/rail/rows.ts';
import { runs } from '../../dashboard/rail/runs.ts';
import { asOneSupply, outline, thickness } from '../../dashboard/rail/thickness.ts';
import type { WindowKind } from '../../dashboard/rail/thickness.ts';
import { dayWords, togetherOnADay, visitsInWords } from '../../dashboard/rail/words.ts';
import { casesFor } from '../browser/invented/cases.ts';
import { railOf } from '../browser/invented/rails.ts';

const kinds: readonly WindowKind[] = [
  'rearable-larvae',
  'virgin-possible',
  'open-brood',
  'sealed-brood',
  'laying-workers',
];
const rail = railOf(casesFor(1, 'Europe/Berlin')[0]!, Date.parse('2026-03-20T23:00:00Z'));

describe('windows are drawn as what they are', () => {
  const window = (kind: WindowKind) => ({ kind, fromDay: 2, toDay: 9, text: '' });
  it('larvae and brood narrow to nothing', () => {
    for (const kind of ['rearable-larvae', 'open-brood', 'sealed-brood'] as const) {
      expect(thickness(window(kind), 2)).toBe(1);
      expect(thickness(window(kind), 9)).toBe(0);
      expect(thickness(window(kind), 4)).toBeGreaterThan(thickness(window(kind), 6));
    }
  });
  it('dangers grow', () => {
    expect(thickness(window('laying-workers'), 5)).toBeGreaterThan(thickness(window('laying-workers'), 3));
    expect(thickness(window('virgin-possible'), 8)).toBe(1);
  });
  it('nothing lies outside its days, and no outline leaves 0 to 1 or the rail', () => {
    const days = fc.double({ min: -5, max: 40, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...kinds), days, days, days, (kind, fromDay, toDay, lastDay) => {
        for (const [day, thick] of outline({ kind, fromDay, toDay, text: '' }, lastDay)) {
          expect(thick).toBeGreaterThanOrEqual(0);
          expect(thick).toBeLessThanOrEqual(1);
          expect(day).toBeLessThanOrEqual(lastDay + 1e-9);
        }
        expect(thickness({ kind, fromDay, toDay, text: '' }, fromDay - 0.1)).toBe(0);
      }),
    );
  });
  it('sealed brood is one supply with the open brood that it comes from', () => {
    const supply = asOneSupply(rail.windows).find((each) => each.kind === 'sealed-brood');
    expect([supply?.fromDay, supply?.toDay]).toEqual([0.45, 21]);
  });
});

describe('places on the drawing', () => {
  it('the same point lies up on a lying rail and left on a standing one', () => {
    const at = evenScale(0, 10, 100, 200);
    const frame: Frame = { standing: false, at, base: 50, above: 20, below: 10 };
    expect(pointAt(frame, 5, 8)).toEqual({ x: 150, y: 42 });
    expect(pointAt({ ...frame, standing: true }, 5, 8)).toEqual({ x: 42, y: 150 });
  });
  it('a single point is a dot, which a bare move to it would not be', () => {
    expect(pathOf([{ x: 1, y: 2 }])).toBe('M1.0 2.0h0');
    expect(pathOf([])).toBe('');
  });
  it('days of unequal height still run on without a jump', () => {
    const at = rowScale([0, 30, 90, 120], -1);
    expect([at(-1), at(-0.5), at(0), at(0.5), at(1), at(2)]).toEqual([0, 15, 30, 60, 90, 120]);
  });
  it('words do not run into each other while there are lanes', () => {
    const wanted = fc.array(
      fc.record({ at: fc.integer({ min: 0, max: 900 }), text: fc.constantFrom('split', 'cut the cells') }),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(wanted, (labels) => {
        const placed = placeLabels(labels, 900, 6);
        for (const a of placed) {
          expect(a.left).toBeGreaterThanOrEqual(0);
          for (const b of placed) {
            if (a === b || a.lane !== b.lane || a.left > b.left) continue;
            expect(a.left + wordsWidth(a.text)).toBeLessThanOrEqual(b.left);
          }
        }
        expect(lanesUsed(placed)).toBeLessThanOrEqual(labels.length);
      }),
    );
  });
  it('traces are broken where nothing was measured', () => {
    const points = [0, 1, 2, 4.5, 5.5].map((day) => ({ day }));
    expect(runs(points, 1.6).map((run) => run.length)).toEqual([3, 2]);
    expect(runs([], 1)).toEqual([]);
  });
});

describe('a standing rail in words', () => {
  it('has each calendar day once, over the change of clocks as well', () => {
    const rows = rowsOf(rail);
    expect(rows[0]?.date).toBe('2026-03-21');
    expect(rows.map((row) => row.date)).toContain('2026-03-29');
    expect(new Set(rows.map((row) => row.date)).size).toBe(rows.length);
    expect(rows.filter((row) => row.today).map((row) => row.day)).toEqual([9]);
  });
  it('says on each day what is done, what begins and what ends', () => {
    const words = (day: number): readonly string[] =>
      rowsOf(rail)
        .find((row) => row.day === day)
        ?.words.map((w) => w.text) ?? [];
    expect(words(7)).toEqual(['Cut the cells', 'until here: larvae a queen could still be raised from']);
    expect(words(9)).toContain('Alert: brood getting cold');
    expect(words(10)).toEqual(['Second look for cells', 'Open the candy end', 'from here: hands off']);
    expect(words(12)).toEqual([]);
  });
  it('counts the day that one is in, with a real minus before day 0', () => {
    expect([9.9, 0, -0.5, -2].map(dayWords)).toEqual(['day 9', 'day 0', 'day −1', 'day −2']);
  });
  it('tells the visits of one day together', () => {
    const days = togetherOnADay(rail.visits).map(visitsInWords);
    expect(days).toContain('Second look for cells, open the candy end');
  });
});

describe('many rails on one scale', () => {
  const one = { rail };
  it('lie on the split or on the release', () => {
    expect(alignedOn(one, 'split')).toBe(0);
    expect(alignedOn(one, 'release')).toBe(10.44);
    expect(alignedOn({ rail: null }, 'split')).toBeUndefined();
    expect(alignedOn({ rail: { ...rail, bars: [] } }, 'release')).toBeUndefined();
  });
  it('share a scale that has room for all', () => {
    expect(extentOf([one], 'release')).toEqual({ fromDay: -11, toDay: 18 });
    expect(extentOf([], 'split')).toEqual({ fromDay: 0, toDay: 14 });
  });
});
