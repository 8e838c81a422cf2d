/**
 * Pictures of every page at both sizes and in both themes, for looking at one by one:
 * `npx tsx tests/browser/pictures.ts FOLDER [page …]`.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { launch } from './chromium.ts';
import { makeFarm } from './invented/farm.ts';
import { startFixture } from './fixture-server.ts';

const [folder = 'pictures', ...only] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });

const pages: Readonly<Record<string, string>> = {
  today: '#/today',
  nucs: '#/nucs',
  nuc: '#/nucs/n1',
  plan: '#/plan',
  'log-nuc': '#/log',
  'log-what': '#/log?nuc=n3',
  log: '#/log?nuc=n3&kind=cells-cut',
  review: '#/review',
  sensors: '#/sensors',
  settings: '#/settings',
};
const sizes = {
  phone: { width: 390, height: 844 },
  laptop: { width: 1440, height: 900 },
} as const;

const browser = await launch();
const farm = await startFixture(makeFarm());
const bare = await startFixture(makeFarm({ empty: true, passwordSet: false, signedIn: false }));
const shut = await startFixture(makeFarm({ signedIn: false }));
const addresses = Object.entries(pages).map(([name, hash]) => [name, farm.url + hash] as const);
addresses.push(['start', `${bare.url}#/today`], ['sign-in', `${shut.url}#/today`]);
for (const [size, viewport] of Object.entries(sizes)) {
  for (const theme of ['light', 'dark'] as const) {
    const context = await browser.newContext({ viewport, colorScheme: theme, hasTouch: size === 'phone' });
    for (const [name, address] of addresses) {
      if (only.length > 0 && !only.includes(name)) continue;
      const page = await context.newPage();
      page.on('console', (message) => {
        if (message.type() === 'error') console.log(name, message.text());
      });
      page.on('pageerror', (error) => {
        console.log(name, error.message);
      });
      await page.goto(address);
      await page.waitForTimeout(700);
      // As tall as the page, so that what is only drawn when it is in sight is drawn.
      const tall = Number(await page.evaluate('document.documentElement.scrollHeight'));
      await page.setViewportSize({ ...viewport, height: Math.max(viewport.height, tall) });
      await page.waitForTimeout(200);
      await page.screenshot({ path: join(folder, `${name}-${size}-${theme}.png`) });
      await page.close();
    }
    await context.close();
  }
}
for (const breach of [...farm.breaches, ...bare.breaches]) console.log('breach', breach);
await browser.close();
await Promise.all([farm.stop(), bare.stop(), shut.stop()]);
