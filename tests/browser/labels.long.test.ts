/** Labels: one a nuc, each a code that opens its log at the address that phones use, below a base path as well. */
import decodeQr from 'qr/decode.js';
import { describe, expect, it } from 'vitest';
import { cleanAddress, isThisMachine, labelAddress } from '../../dashboard/labels/address.ts';
import { pathOf } from '../../dashboard/labels/qr-path.ts';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

/** What an independent reader (the package `qr`) makes of the drawn path, as a picture of four pixels a module. */
function scanned({ size, d }: ReturnType<typeof pathOf>): string {
  const pixels = 4;
  const width = size * pixels;
  const data = new Uint8ClampedArray(width * width * 4).fill(255);
  for (const [, x, y, dark] of d.matchAll(/M(\d+) (\d+)h(\d+)v1/g))
    for (let row = Number(y) * pixels; row < (Number(y) + 1) * pixels; row += 1)
      for (let column = Number(x) * pixels; column < (Number(x) + Number(dark)) * pixels; column += 1)
        data.fill(0, (row * width + column) * 4, (row * width + column) * 4 + 3);
  return decodeQr({ width, height: width, data });
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

  it.each([
    { about: 'short', base: 'http://bees.home/', nuc: 'n1' },
    { about: 'with a port and a base path', base: 'http://bees.home:8080/welcomb/', nuc: '0123456789abcdef' },
    { about: 'long', base: `https://${'bees.'.repeat(30)}home/welcomb/`, nuc: 'n'.repeat(64) },
  ])('is read by a scanner as it was drawn: $about', ({ base, nuc }) => {
    const address = labelAddress(base, nuc);
    expect(scanned(pathOf(address))).toBe(address);
  });

  it('has four light modules around it (ISO/IEC 18004, 9.1)', () => {
    const { size, d } = pathOf('http://bees.home/');
    const rows = [...d.matchAll(/M(\d+) (\d+)h(\d+)v1/g)];
    const lefts = rows.map(([, x]) => Number(x));
    const rights = rows.map(([, x, , dark]) => Number(x) + Number(dark));
    const ys = rows.map(([, , y]) => Number(y));
    expect([Math.min(...lefts), Math.min(...ys)]).toEqual([4, 4]);
    expect([Math.max(...rights), Math.max(...ys) + 1]).toEqual([size - 4, size - 4]);
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
      expect(scanned({ size: pathOf(address).size, d: d! })).toBe(address);
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
