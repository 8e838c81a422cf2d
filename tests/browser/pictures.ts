/**
 * Pictures of every page at both sizes and in both themes, for looking at one by one:
 * `npx tsx tests/browser/pictures.ts FOLDER [--at URL] [page …]`. Without an address they show the invented farm; with
 * one, what a running server (such as the demo) shows.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { launch } from './chromium.ts';
import { startFixture } from './fixture-server.ts';
import type { Fixture } from './fixture-server.ts';
import { makeFarm } from './invented/farm.ts';

const sizes = {
  phone: { width: 390, height: 844 },
  laptop: { width: 1440, height: 900 },
} as const;

interface Wanted {
  readonly name: string;
  readonly address: string;
}

/** The nuc that needs most, so that its page has something to show; and one whose cells are to be cut. */
async function nucsOf(url: string): Promise<{ readonly alarmed: string; readonly toCut: string }> {
  const { items } = (await (await fetch(`${url}api/v1/nucs?traces=false`)).json()) as {
    items: { hive: { id: string }; alerts: { urgency: string }[]; nextStep: { kind: string } | null }[];
  };
  const now = items.find((one) => one.alerts.some((alert) => alert.urgency === 'now')) ?? items[0];
  const cut = items.find((one) => one.nextStep?.kind === 'cut-cells') ?? now;
  return { alarmed: now?.hive.id ?? '', toCut: cut?.hive.id ?? '' };
}

async function pagesOf(url: string): Promise<Wanted[]> {
  const { alarmed, toCut } = await nucsOf(url);
  const hashes = {
    today: '#/today',
    nucs: '#/nucs',
    nuc: `#/nucs/${alarmed}`,
    plan: '#/plan',
    'log-nuc': '#/log',
    'log-what': `#/log?nuc=${toCut}`,
    log: `#/log?nuc=${toCut}&kind=cells-cut`,
    review: '#/review',
    sensors: '#/sensors',
    settings: '#/settings',
  };
  return Object.entries(hashes).map(([name, hash]) => ({ name, address: url + hash }));
}

async function takeAll(browser: Browser, folder: string, wanted: readonly Wanted[]): Promise<void> {
  for (const [size, viewport] of Object.entries(sizes)) {
    for (const theme of ['light', 'dark'] as const) {
      const context = await browser.newContext({ viewport, colorScheme: theme, hasTouch: size === 'phone' });
      for (const { name, address } of wanted) {
        const page = await context.newPage();
        page.on('console', (message) => {
          if (message.type() === 'error') console.log(name, message.text());
        });
        await page.goto(address);
        await page.getByRole('heading', { level: 1 }).waitFor();
        await page.waitForTimeout(700);
        // As tall as the page, so that what is only drawn when it is in sight is drawn.
        const tall = Number(await page.evaluate('document.documentElement.scrollHeight'));
        await page.setViewportSize({ ...viewport, height: Math.max(viewport.height, tall) });
        await page.waitForTimeout(300);
        await page.screenshot({ path: join(folder, `${name}-${size}-${theme}.png`) });
        await page.close();
      }
      await context.close();
    }
  }
}

const [folder = 'pictures', ...rest] = process.argv.slice(2);
const at = rest[0] === '--at' ? rest[1] : undefined;
const only = at === undefined ? rest : rest.slice(2);
mkdirSync(folder, { recursive: true });
const fixtures: Fixture[] = [];
const wanted: Wanted[] = [];
if (at === undefined) {
  const farm = await startFixture(makeFarm());
  const bare = await startFixture(makeFarm({ empty: true, passwordSet: false, signedIn: false }));
  const shut = await startFixture(makeFarm({ signedIn: false }));
  fixtures.push(farm, bare, shut);
  wanted.push(
    ...(await pagesOf(farm.url)),
    { name: 'start', address: bare.url },
    { name: 'sign-in', address: shut.url },
  );
} else wanted.push(...(await pagesOf(at)));
const browser = await launch();
await takeAll(
  browser,
  folder,
  wanted.filter(({ name }) => only.length === 0 || only.includes(name)),
);
await browser.close();
for (const fixture of fixtures) await fixture.stop();
