/** The charts of a nuc: moved and zoomed, and kept up to date as they are set. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

/** Each stretch of time that the page asks a chart of, from and to. */
function spansAsked(page: Page): (readonly [number, number])[] {
  const asked: (readonly [number, number])[] = [];
  page.on('request', (request) => {
    const query = new URL(request.url()).searchParams;
    const [from, to] = [query.get('from'), query.get('to')];
    if (request.url().includes('/chart') && from !== null && to !== null)
      asked.push([Date.parse(from), Date.parse(to)]);
  });
  return asked;
}

describe.skipIf(missing('Chromium', chromium))('the charts of a nuc', () => {
  it('keep showing suspect readings, and the stretch of time, when new readings come in', async () => {
    const { page, fixture, open, emit, end } = await visit();
    const asked: URLSearchParams[] = [];
    page.on('request', (request) => {
      if (request.url().includes('/chart')) asked.push(new URL(request.url()).searchParams);
    });
    await page.clock.install();
    await open('#/nucs/n8');
    await page.getByRole('button', { name: 'last day' }).click();
    await page.getByLabel('Show suspect readings').check();
    await page.clock.runFor(1_000);
    await expect.poll(() => asked.at(-1)?.get('suspect')).toBe('true');
    const before = asked.length;
    const time = new Date(fixture.farm.nowMs()).toISOString();
    const reading = { channelId: 1, hiveId: 'n8', place: 'brood', value: 34, unit: 'Cel', time } as const;
    await emit({ type: 'reading', ...reading });
    await page.getByRole('region', { name: 'Newest readings' }).getByText('34.0 °C').waitFor();
    await page.clock.runFor(61_000);
    await expect.poll(() => asked.length).toBeGreaterThan(before);
    expect(asked.at(-1)?.get('suspect')).toBe('true');
    expect(asked.at(-1)?.get('from')).toBe(asked[before - 1]?.get('from'));
    expect(await page.getByLabel('Show suspect readings').isChecked()).toBe(true);
    await end();
  });

  it('moves and zooms its charts by keys, by mouse and by button, and asks only for what is in sight', async () => {
    const { page, open, end } = await visit();
    const asked = spansAsked(page);
    const length = (): number => asked.at(-1)![1] - asked.at(-1)![0];
    await open('#/nucs/n8');
    const chart = page.getByRole('application', { name: /^Weight/ });
    await chart.focus();
    await page.keyboard.press('+');
    await expect.poll(() => asked.length).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'last day' }).click();
    await expect.poll(length).toBe(86_400_000);
    const [lastDay] = asked.at(-1)!;
    const box = (await chart.boundingBox())!;
    await page.mouse.move(box.x + 300, box.y + 100);
    await page.getByText(/: weight \d/).waitFor();
    await page.mouse.down();
    await page.mouse.move(box.x + 600, box.y + 100, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => asked.at(-1)![0]).toBeLessThan(lastDay);
    expect(length()).toBe(86_400_000);
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -200);
    await page.keyboard.up('Control');
    await expect.poll(length).toBeLessThan(86_400_000);
    await end();
  });

  it('follows the time again once all is shown after a part of it', async () => {
    const { page, open, end } = await visit();
    const asked: URLSearchParams[] = [];
    page.on('request', (request) => {
      if (request.url().includes('/chart')) asked.push(new URL(request.url()).searchParams);
    });
    await open('#/nucs/n8');
    await page.getByRole('button', { name: 'last day' }).click();
    await expect.poll(() => asked.at(-1)?.has('to')).toBe(true);
    await page.getByLabel('Show suspect readings').check();
    await page.getByRole('button', { name: 'all', exact: true }).click();
    await expect.poll(() => asked.at(-1)?.has('to')).toBe(false);
    await end();
  });

  it('spreads and moves a chart by two fingers', async () => {
    const { page, context, open, end } = await visit({
      context: { viewport: phone, hasTouch: true, isMobile: true },
    });
    const asked = spansAsked(page);
    await open('#/nucs/n8');
    await page.getByRole('heading', { name: 'Charts' }).click();
    await page.getByRole('button', { name: 'last week' }).tap();
    await expect.poll(() => asked.length).toBeGreaterThan(0);
    const week = asked[0]![1] - asked[0]![0];
    const chart = page.getByRole('application', { name: /^Weight/ });
    await chart.scrollIntoViewIfNeeded();
    const box = (await chart.boundingBox())!;
    const fingers = await context.newCDPSession(page);
    const put = (type: 'touchStart' | 'touchMove' | 'touchEnd', ...xs: number[]) =>
      fingers.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: xs.map((x, id) => ({ id, x: box.x + x, y: box.y + 80 })),
      });
    await put('touchStart', 150, 210);
    for (const by of [10, 30, 50, 60]) await put('touchMove', 150 - by, 210 + by);
    await put('touchEnd');
    await expect.poll(() => asked.at(-1)![1] - asked.at(-1)![0]).toBeLessThan(week / 2);
    await end();
  });

  it('has no hour twice and leaves none out on its charts in the nights in which the clocks change', async () => {
    for (const nowMs of [Date.parse('2026-03-29T10:00:00Z'), Date.parse('2026-10-25T10:00:00Z')]) {
      const { page, open, end } = await visit({ farm: { nucs: 1, nowMs } });
      await open('#/nucs/n1');
      await page.getByRole('button', { name: 'last day' }).click();
      await page.locator('summary').filter({ hasText: 'Weight as a table' }).click();
      const table = page.getByRole('region', { name: /^Weight as a table/ });
      await table.locator('tbody th').first().waitFor();
      const times = await table.locator('tbody th').allInnerTexts();
      expect(times.length).toBeGreaterThan(10);
      expect(new Set(times).size).toBe(times.length);
      await end();
    }
  });
});
