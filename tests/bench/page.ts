/**
 * The page in Chromium: its weight; how long until Today can be used with 50 nucs on a processor slowed four times,
 * with nothing kept from an earlier visit (alerts with their evidence, and visits: what a phone shows first; the rails
 * come below them); how long a chart of a season takes to be drawn. The baseline beside the first
 * page is an empty page of the same server, fetched and painted the same way. `npx tsx tests/bench/page.ts [runs]`.
 */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
import { launchWhole } from '../browser/chromium.ts';
import { builtPage, startFixture } from '../browser/fixture-server.ts';
import { makeFarm } from '../browser/invented/farm.ts';

const runs = Number(process.argv[2] ?? 5);
const slowedBy = 4;

const middle = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

function scriptBytes(): number {
  const names = readdirSync(builtPage, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.js'),
  );
  return names.reduce((sum, name) => sum + gzipSync(readFileSync(join(builtPage, name))).length, 0);
}

/** Ms since the navigation began until everything that is named is there and has been painted. */
const untilThere = (selectors: readonly string[]): string => `new Promise((done) => {
  const look = () => {
    if (${JSON.stringify(selectors)}.every((one) => document.querySelector(one))) {
      requestAnimationFrame(() => setTimeout(() => done(performance.now()), 0));
    } else setTimeout(look, 5);
  };
  look();
})`;

async function opened(browser: Browser, address: string, selectors: readonly string[]): Promise<number> {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    serviceWorkers: 'block',
  });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowedBy });
  await page.goto(address, { waitUntil: 'commit' });
  const ms = Number(await page.evaluate(untilThere(selectors)));
  await context.close();
  return ms;
}

async function firstPage(browser: Browser): Promise<void> {
  const fixture = await startFixture(makeFarm({ nucs: 50 }), { check: false });
  const bare = `${fixture.url}icon.svg`;
  const usable: number[] = [];
  const whole: number[] = [];
  const baseline: number[] = [];
  for (let i = 0; i < runs; i += 1) {
    baseline.push(await opened(browser, bare, ['svg']));
    const today = `${fixture.url}#/today`;
    usable.push(await opened(browser, today, ['.alert .rail', '.site-visit']));
    whole.push(await opened(browser, today, ['.alert .rail', '.site-visit', '.day-line']));
  }
  await fixture.stop();
  console.log(
    `empty page of the same server, slowed ${String(slowedBy)}x     ${middle(baseline).toFixed(0)} ms`,
  );
  console.log(
    `Today with 50 nucs usable, slowed ${String(slowedBy)}x         ${middle(usable).toFixed(0)} ms (goal 1000)`,
  );
  console.log(
    `the same with the rails below, slowed ${String(slowedBy)}x      ${middle(whole).toFixed(0)} ms`,
  );
}

/** Ms from a key that changes the stretch of time to the last stroke on a canvas within 200 ms. */
const redrawn = (key: string): string => `new Promise((done) => {
  const proto = CanvasRenderingContext2D.prototype;
  const stroke = proto.stroke;
  let last = 0;
  proto.stroke = function (...given) { last = performance.now(); return stroke.apply(this, given); };
  const canvas = document.querySelector('.trend-canvas');
  const from = performance.now();
  canvas.dispatchEvent(new KeyboardEvent('keydown', { key: '${key}', bubbles: true }));
  setTimeout(() => { proto.stroke = stroke; done(last - from); }, 200);
})`;

async function season(browser: Browser): Promise<void> {
  const fixture = await startFixture(makeFarm({ nucs: 1, days: 180 }));
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(`${fixture.url}#/nucs/n1`);
  await page.locator('.trend-canvas').first().waitFor();
  await page.waitForTimeout(500);
  const times: number[] = [];
  for (let i = 0; i < runs; i += 1) {
    await page.evaluate(redrawn('+'));
    await page.waitForTimeout(600);
    times.push(Number(await page.evaluate(redrawn('0'))));
    await page.waitForTimeout(600);
  }
  await context.close();
  await fixture.stop();
  console.log(
    `180 days of a nuc, three charts drawn           ${middle(times).toFixed(0)} ms (goal 200 for one)`,
  );
}

console.log(
  `JavaScript of all pages, gzipped                ${(scriptBytes() / 1000).toFixed(1)} kB (goal 150)`,
);
const browser = await launchWhole();
await firstPage(browser);
await season(browser);
await browser.close();
