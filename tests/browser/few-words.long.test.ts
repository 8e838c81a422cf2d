/**
 * How much each page asks to be read as it is first shown, on a phone, on the nucs of the demo. The limits are this
 * project's own: a keeper at the stand reads one line a nuc, not a report.
 */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { chromium, missing } from '../support/programs.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';
import { sharedBrowser } from './chromium.ts';
import { phone } from './visit.ts';
import { shownOn } from './words-shown.ts';

const most: Readonly<Record<string, { readonly words: number; readonly screens: number }>> = {
  '#/today': { words: 300, screens: 2.5 },
  '#/log': { words: 150, screens: 6 },
  '#/plan': { words: 600, screens: 6 },
  '#/review': { words: 450, screens: 5 },
  '#/sensors': { words: 350, screens: 5 },
};
const ofOneNuc = { words: 450, screens: 6 };

describe.skipIf(missing('Chromium', chromium))('on the demo’s nucs, on a phone', () => {
  const folder = newFolder();
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    server = await startServer({ data: join(folder, 'demo'), args: ['--demo'] });
    await until(
      () => Promise.resolve(server.output().includes('the live feed goes on') || undefined),
      240_000,
    );
    // What needs the keeper now has to be there: a calm page has fewer words.
    const raised = async (): Promise<true | undefined> => {
      const { items } = await server.get<ResponseOf<'listAlerts'>>('/api/v1/alerts?state=open');
      return items.some(({ urgency }) => urgency === 'now') || undefined;
    };
    await until(raised, 240_000);
    const browser = await sharedBrowser();
    const context = await browser.newContext({
      viewport: phone,
      hasTouch: true,
      isMobile: true,
      reducedMotion: 'reduce',
      serviceWorkers: 'block',
    });
    page = await context.newPage();
  }, 600_000);
  afterAll(async () => {
    await page.context().close();
    await server.stop();
    dropFolder(folder);
  });

  async function opened(hash: string): Promise<void> {
    await page.goto('about:blank');
    await page.goto(`${server.http}/${hash}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await expect.poll(() => page.locator('.waiting').count()).toBe(0);
    // What is drawn once the browser is idle belongs to the page as it is first shown.
    await page.waitForTimeout(400);
  }

  it.each(Object.entries(most))('%s stays within its words and its height', async (hash, limit) => {
    await opened(hash);
    const shown = await shownOn(page);
    console.log(`${hash}: ${String(shown.words)} words, ${shown.screens.toFixed(1)} screens`);
    expect(shown.words).toBeLessThanOrEqual(limit.words);
    expect(shown.screens).toBeLessThanOrEqual(limit.screens);
  });

  it('Review opens on the batch that is over, with every nuc named and those marked that were lost', async () => {
    const review = await server.get<ResponseOf<'reviewBatch'>>('/api/v1/review/batch?alignedOn=release');
    expect(review.batch).toBe('Spring batch');
    const lost = review.nucs.filter(({ outcome }) => outcome !== 'accepted');
    expect([review.nucs.length, lost.map(({ name, outcome }) => [name, outcome])]).toEqual([
      8,
      [
        ['Nuc 33', 'queen-killed'],
        ['Nuc 36', 'absconded'],
      ],
    ]);
    const marked = async (quantity: string) => {
      const asked = `/api/v1/review/batch?alignedOn=split&quantity=${quantity}`;
      const { nucs } = await server.get<ResponseOf<'reviewBatch'>>(asked);
      return nucs.flatMap(({ name, outsideSinceDay }) => (outsideSinceDay === null ? [] : [name]));
    };
    // Without a laying queen the brood runs out and cools, and on cool days so it does where the bees left; those are missing on the scale.
    const cooled = await marked('brood-temperature');
    expect(cooled[0]).toBe('Nuc 33');
    expect(['Nuc 33', 'Nuc 36']).toEqual(expect.arrayContaining(cooled));
    expect(await marked('night-weight')).toEqual(['Nuc 36']);
    const { items } = await server.get<ResponseOf<'outcomes'>>('/api/v1/review/outcomes?by=source');
    expect(items.map(({ group, accepted, lost: gone }) => [group, accepted, gone])).toEqual([
      ['Line Thorn', 4, 1],
      ['Line Willow', 3, 1],
    ]);
    await opened('#/review');
    const batch = page.getByRole('region', { name: 'A batch' });
    for (const { name } of review.nucs) await batch.locator('svg').getByText(name, { exact: true }).waitFor();
    expect(await batch.getByRole('listitem').first().innerText()).toMatch(
      /Nuc 33 queen killed · below the band from day \d+ on/,
    );
    expect(await batch.getByText(/accepted · grafted \w+ \d+ \w+/).count()).toBe(4);
    const { items: live } = await server.get<ResponseOf<'listNucs'>>('/api/v1/nucs?traces=false');
    expect(live.filter(({ hive }) => lost.some(({ id }) => id === hive.id))).toEqual([]);
  });

  it('shows no figure of a probe that fails', async () => {
    await opened('#/nucs');
    const row = page.getByText('probe fault');
    await row.first().waitFor();
    expect(await page.getByRole('main').innerText()).not.toContain('127');
  });

  it('lays the rail and the answers of a nuc side by side on a laptop', async () => {
    await page.setViewportSize({ width: 1366, height: 768 });
    try {
      await opened('#/nucs/nuc-16');
      const rail = (await page.getByRole('region', { name: 'Rail' }).boundingBox())!;
      const answers = (await page.getByRole('region', { name: 'May I?' }).boundingBox())!;
      expect(Math.abs(rail.y - answers.y)).toBeLessThan(2);
      expect(answers.x).toBeGreaterThanOrEqual(rail.x + rail.width);
      expect(rail.y).toBeLessThan(768);
    } finally {
      await page.setViewportSize(phone);
    }
  });

  it('the page of every nuc stays within its words and its height', async () => {
    const { items } = await server.get<ResponseOf<'listNucs'>>('/api/v1/nucs?traces=false');
    expect(items.length).toBeGreaterThan(8);
    const over: string[] = [];
    for (const { hive } of items) {
      await opened(`#/nucs/${hive.id}`);
      const { words, screens } = await shownOn(page);
      console.log(`${hive.name}: ${String(words)} words, ${screens.toFixed(1)} screens`);
      if (words > ofOneNuc.words || screens > ofOneNuc.screens)
        over.push(`${hive.name}: ${String(words)} words, ${screens.toFixed(1)} screens`);
    }
    expect(over).toEqual([]);
  });
});
