/** Labels: one a nuc, each a code that opens its log at the address that phones use, below a base path as well. */
import { create } from 'qrcode';
import { describe, expect, it } from 'vitest';
import { cleanAddress, isThisMachine, labelAddress } from '../../dashboard/labels/address.ts';
import { pathOf } from '../../dashboard/labels/qr-path.ts';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

/** The dark modules that a path of rows draws. */
function drawn({ size, d }: ReturnType<typeof pathOf>): string[] {
  const rows = Array.from({ length: size }, () => Array.from({ length: size }, () => '.'));
  for (const [, x, y, width] of d.matchAll(/M(\d+) (\d+)h(\d+)v1/g))
    rows[Number(y)]?.fill('#', Number(x), Number(x) + Number(width));
  return rows.map((row) => row.join(''));
}

describe('the address in a label', () => {
  it('keeps the base path and leaves out the rest', () => {
    expect(cleanAddress(' http://bees.home:8080/welcomb/#/labels ')).toBe('http://bees.home:8080/welcomb/');
    expect(cleanAddress('https://bees.home')).toBe('https://bees.home/');
    expect(['bees.home', 'javascript:alert(1)', ''].map(cleanAddress)).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(labelAddress('http://bees.home/welcomb/', 'n/1')).toBe('http://bees.home/welcomb/#/log?nuc=n%2F1');
    expect(['http://localhost/', 'http://127.0.0.1:1/', 'http://bees.home/'].map(isThisMachine)).toEqual([
      true,
      true,
      false,
    ]);
  });

  it('is drawn module by module, with four light ones around it (ISO/IEC 18004)', () => {
    const text = 'http://bees.home:8080/welcomb/#/log?nuc=0123456789abcdef';
    const { modules } = create(text, { errorCorrectionLevel: 'M' });
    const rows = drawn(pathOf(text));
    expect(rows).toHaveLength(modules.size + 8);
    const inner = rows.slice(4, -4).map((row) => row.slice(4, -4));
    const wanted = inner.map((_, y) =>
      Array.from({ length: modules.size }, (__, x) => (modules.get(y, x) === 0 ? '.' : '#')).join(''),
    );
    expect(inner).toEqual(wanted);
    expect([...rows.slice(0, 4), ...rows.slice(-4)].join('')).not.toContain('#');
  });
});

describe.skipIf(missing('Chromium', chromium))('the sheet of labels', () => {
  it.each([
    ['/', 'A4', 210],
    ['/welcomb', 'Letter', 216],
  ])(
    'below %s prints on %s, one label a nuc, and each opens that nuc’s log',
    async (basePath, paper, widthMm) => {
      const { page, fixture, open, end } = await visit({ farm: { nucs: 14 }, fixture: { basePath } });
      await open('#/labels');
      await page.getByText(paper, { exact: true }).click();
      await page.getByText('A phone can’t reach this address', { exact: false }).waitFor();
      expect(await page.getByRole('img', { name: /^Code that opens/ }).count()).toBe(14);
      const third = fixture.farm.details.get('n3')!;
      const label = page.getByRole('img', { name: `Code that opens the log of ${third.hive.name}` });
      const d = await label.locator('path').getAttribute('d');
      const address = labelAddress(fixture.url, 'n3');
      expect(d).toBe(pathOf(address).d);
      const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
      const [, width] = /MediaBox \[0 0 ([\d.]+) /.exec(pdf) ?? [];
      expect(Math.round((Number(width) / 72) * 25.4)).toBe(widthMm);
      expect(pdf.match(/\/Type \/Page\b/g)).toHaveLength(2);
      await page.goto(address);
      await page.getByRole('heading', { name: 'Log a visit' }).waitFor();
      await page.locator('.page-head').getByText(third.hive.name).waitFor();
      await end();
    },
  );
});
