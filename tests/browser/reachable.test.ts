/** WCAG 2.2 AA as far as a program can tell, on every page, in both themes, at four widths; and targets for gloves. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { full } from '../support/size.ts';
import { phone, visit } from './visit.ts';

const pages = [
  '#/today',
  '#/nucs',
  '#/nucs/n1',
  '#/plan',
  '#/labels',
  '#/takeover',
  '#/log',
  '#/log?nuc=n3',
  '#/log?nuc=n3&kind=cells-cut',
  '#/review',
  '#/sensors',
  '#/settings',
];
/** Those that a keeper is on every day; the others at full size. */
const looked = full ? pages : pages.filter((hash) => ['#/today', '#/nucs/n1', '#/log?nuc=n3'].includes(hash));
/** 720 × 450 is what is left of 1440 × 900 at 200 % zoom. */
const sizes = [{ width: 1440, height: 900 }, { width: 720, height: 450 }, phone, { width: 320, height: 640 }];
/** No rule here needs the style sheets fetched once more. */
const options = { resultTypes: ['violations'], preload: false };
const allRules = {
  ...options,
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
};
/** A theme is other colours and nothing else, so in the dark only what is about colours can come out otherwise. */
const colourRules = {
  ...options,
  runOnly: { type: 'rule', values: ['color-contrast', 'link-in-text-block'] },
};

/** Everything that can be pressed and is in sight, with its size; a tick or radio counts with its label. */
const smallTargets = `[...document.querySelectorAll('a, button, summary, input, select, textarea')]
  .map((one) => (one.matches('[type=checkbox], [type=radio]') ? one.closest('label') ?? one : one))
  .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.matches('.skip'))
  .map((one) => ({ words: one.outerHTML.slice(0, 120), box: one.getBoundingClientRect() }))
  .filter(({ box }) => box.height > 0 && (box.height < 43.5 || (box.width < 43.5 && box.width > 0)))
  .map(({ words, box }) => words + ' ' + box.width.toFixed(0) + 'x' + box.height.toFixed(0))`;

/**
 * What still lies under a bar that stands fast once it is brought into sight, from above and from below, as Tab and a
 * screen reader bring it. It may be cut by the bar, its middle must be free.
 */
const covered = `[...document.querySelectorAll('main :is(a, button, summary, input, select, textarea), .unsent a')]
  .map((one) => (one.matches('[type=checkbox], [type=radio]') ? one.closest('label') ?? one : one))
  .filter((one) => one.checkVisibility({ visibilityProperty: true }))
  .flatMap((one) => [0, document.documentElement.scrollHeight].map((from) => {
    scrollTo({ top: from, behavior: 'instant' });
    one.scrollIntoView({ block: 'nearest', behavior: 'instant' });
    const box = one.getBoundingClientRect();
    const hit = document.elementFromPoint(
      Math.min(box.left + box.width / 2, innerWidth - 1),
      box.top + Math.min(box.height, innerHeight / 2) / 2,
    );
    const bar = hit?.closest('nav, .top, .save');
    return bar && !bar.contains(one) ? (from ? 'from below: ' : 'from above: ') + one.outerHTML.slice(0, 120) : '';
  }))
  .filter((words) => words !== '')`;

const overflow = (page: Page): Promise<unknown> =>
  page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');

type Violations = Awaited<ReturnType<AxeBuilder['analyze']>>['violations'];

async function findings(page: Page, looked: object = allRules): Promise<readonly string[]> {
  // Carrying axe into the page takes as long as a look does, so it is done once for each page; what stays there is asked.
  // No page has frames, so the mode that skips looking through them sees all of it.
  if (await page.evaluate('globalThis.axe === undefined'))
    await new AxeBuilder({ page }).withRules('document-title').setLegacyMode(true).analyze();
  // axe takes a target as small as what the bar leaves of it where the page happens to be scrolled. So the bar lies in the
  // flow while it looks; what stays under it is looked for by itself below.
  const place = (position: string) =>
    page.evaluate(
      `document.querySelectorAll('.save').forEach(({ style }) => { style.position = '${position}'; })`,
    );
  await place('static');
  const violations: Violations = await page.evaluate(
    `axe.run(document, ${JSON.stringify(looked)}).then(({ violations }) => violations)`,
  );
  await place('');
  return violations.map(
    (each) =>
      `${each.id}: ${each.nodes
        .map((node) => node.html)
        .join(' | ')
        .slice(0, 400)}`,
  );
}

async function everywhere(page: Page): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    for (const size of sizes) {
      await page.setViewportSize(size);
      await page.evaluate('new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))');
      expect([size.width, await overflow(page)]).toEqual([size.width, 0]);
      // Looking for everything takes seconds; the small run does it once, on the phone.
      if (!full && (colorScheme === 'dark' || size !== phone)) continue;
      const found = await findings(page, colorScheme === 'light' ? allRules : colourRules);
      expect([colorScheme, size.width, ...found]).toEqual([colorScheme, size.width]);
    }
  }
}

describe.skipIf(missing('Chromium', chromium))('every page', () => {
  it.each(looked)('%s has no finding, light and dark, at any width', { timeout: 90_000 }, async (hash) => {
    const { page, open, end } = await visit();
    await open(hash);
    await everywhere(page);
    await end();
  });

  const before = [
    ['first steps', { empty: true, passwordSet: false, signedIn: false }],
    ['sign-in', { signedIn: false }],
    ['today with nothing', { nucs: 0 }],
  ] as const;
  it.each(before)('%s has no finding, light and dark, at any width', { timeout: 90_000 }, async (_, farm) => {
    const { page, open, end } = await visit({ farm });
    await open('#/today');
    await everywhere(page);
    await end();
  });

  it.each(before)('%s has targets for gloves', async (_, farm) => {
    const { page, open, end } = await visit({
      farm,
      context: { viewport: phone, hasTouch: true, isMobile: true },
    });
    await open('#/today');
    expect(await page.evaluate(smallTargets)).toEqual([]);
    await end();
  });

  it('every one of the first steps has no finding, and targets for gloves', { timeout: 90_000 }, async () => {
    const { page, open, end } = await visit({
      farm: { empty: true, passwordSet: false, signedIn: false },
      context: { viewport: phone, hasTouch: true, isMobile: true },
    });
    await open('#/today');
    const look = async (): Promise<void> => {
      await page.emulateMedia({ colorScheme: 'light' });
      expect(await findings(page)).toEqual([]);
      await page.emulateMedia({ colorScheme: 'dark' });
      expect(await findings(page, colourRules)).toEqual([]);
      expect(await page.evaluate(smallTargets)).toEqual([]);
      expect(await overflow(page)).toBe(0);
    };
    await page.getByLabel('Your name').fill('Maren');
    await page.getByLabel('Password').fill('four plain words here');
    await page.getByLabel('Setup code').first().fill('ABCD-EFGH');
    await page.getByText('Position and time zone').click();
    await look();
    await page.getByLabel('Latitude').fill('52,1');
    await page.getByLabel('Longitude').fill('9.9');
    await page.getByRole('button', { name: 'Set up' }).click();
    await page.getByText('Waiting for a first reading').waitFor();
    await look();
    await page.getByRole('button', { name: 'Later: go on without a sensor' }).click();
    await page.getByText('Box and site').click();
    await look();
    await end();
  });

  it.each(['#/plan', '#/review'])('%s has no finding on paper, and nothing to press', async (hash) => {
    const { page, open, end } = await visit();
    await open(hash);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    expect(await findings(page)).toEqual([]);
    expect(await page.locator('button:visible, nav:visible').count()).toBe(0);
    expect(await page.evaluate('getComputedStyle(document.documentElement).backgroundColor')).toBe(
      'rgb(255, 255, 255)',
    );
    await end();
  });

  it('dialogs have no finding either', async () => {
    const { page, open, end } = await visit({ context: { viewport: phone } });
    await open('#/sensors');
    await page.getByRole('button', { name: 'Say what it means …' }).click();
    await page.getByText('33.8 °C').waitFor();
    expect(await findings(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await expect.poll(() => page.getByRole('dialog').count()).toBe(0);
    expect(await page.evaluate('document.activeElement.textContent')).toBe('Say what it means …');
    await end();
  });

  it.each(looked)('%s has targets for gloves, and nothing that stays under a fixed bar', async (hash) => {
    const { page, open, end } = await visit({
      context: { viewport: phone, hasTouch: true, isMobile: true },
    });
    await open(hash);
    expect(await page.evaluate(smallTargets)).toEqual([]);
    for (const size of [phone, { width: 320, height: 640 }, { width: 720, height: 450 }]) {
      await page.setViewportSize(size);
      expect([size.width, await page.evaluate(covered)]).toEqual([size.width, []]);
    }
    await end();
  });
});
