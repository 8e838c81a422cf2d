/** A browser on an invented farm: what a test opens, and what it must never see. */
import type { BrowserContext, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { launchWhole, sharedBrowser } from './chromium.ts';
import { makeFarm } from './invented/farm.ts';
import type { FarmOptions } from './invented/farm.ts';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { startFixture } from './fixture-server.ts';
import type { Fixture, FixtureOptions } from './fixture-server.ts';

export const phone = { width: 390, height: 844 };
const laptop = { width: 1440, height: 900 };

/** What Playwright says where a page may not be kept. */
const blocked = /Service Worker registration blocked/;

/** Runs in the page before its own scripts: counts what its event streams have heard. */
const countEvents = `
  globalThis.eventsHeard = 0;
  globalThis.EventSource = class extends EventSource {
    constructor(...address) {
      super(...address);
      this.addEventListener('message', () => { globalThis.eventsHeard += 1; });
    }
  };`;

export interface Visit {
  readonly fixture: Fixture;
  readonly context: BrowserContext;
  readonly page: Page;
  /** Always a page of its own: on one that is open already, the heading waited for could still be the one before. */
  open(hash: string): Promise<void>;
  /** Resolves when the page has heard it. */
  emit(event: LiveEvent): Promise<void>;
  /** Ends it, and fails where the page complained, reached outside, or was fed what the contract does not allow. */
  end(): Promise<void>;
}

export interface VisitOptions {
  readonly farm?: FarmOptions;
  readonly fixture?: FixtureOptions;
  readonly context?: BrowserContextOptions;
  /** Complaints that belong to what is tested, such as requests that fail while the server is gone. */
  readonly allow?: RegExp;
  /** A browser of its own that can show notifications. */
  readonly isWhole?: boolean;
}

/** Without keeping the page on the device, which fetches all of it once more, where that is not what is tested. */
export async function visit(options: VisitOptions = {}): Promise<Visit> {
  const browser = options.isWhole === true ? await launchWhole() : await sharedBrowser();
  const fixture = await startFixture(makeFarm(options.farm), options.fixture);
  const context = await browser.newContext({
    viewport: laptop,
    timezoneId: 'Europe/Berlin',
    reducedMotion: 'reduce',
    serviceWorkers: 'block',
    ...options.context,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await page.addInitScript(countEvents);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('request', (request) => {
    const { origin } = new URL(request.url());
    if (origin !== new URL(fixture.url).origin && !request.url().startsWith('blob:'))
      complaints.push(`outside: ${request.url()}`);
  });
  return {
    fixture,
    context,
    page,
    async open(hash) {
      await page.goto('about:blank');
      await page.goto(`${fixture.url}${hash}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.locator('.waiting').first().waitFor({ state: 'detached' });
    },
    async emit(event) {
      // Before that the stream may not be open yet, and an event is sent once.
      await page.locator('.line.live').waitFor({ state: 'attached' });
      const before = await page.evaluate<number>('eventsHeard');
      fixture.emit(event);
      await expect.poll(() => page.evaluate('eventsHeard')).toBeGreaterThan(before);
    },
    async end() {
      await context.close();
      if (options.isWhole === true) await browser.close();
      await fixture.stop();
      expect(fixture.breaches).toEqual([]);
      const allowed = (words: string): boolean => blocked.test(words) || options.allow?.test(words) === true;
      expect(complaints.filter((words) => !allowed(words))).toEqual([]);
    },
  };
}

/** Presses Tab until the thing has the focus, as somebody without a mouse does; fails where it never gets there. */
async function tabTo(page: Page, target: Locator, most = 150): Promise<void> {
  await target.first().waitFor();
  const id = `tab-${String(Math.round(performance.now() * 1000))}`;
  await target.first().evaluate((element, mark) => {
    (element as unknown as { dataset: Record<string, string> }).dataset['tab'] = mark;
  }, id);
  for (let i = 0; i < most; i += 1) {
    await page.keyboard.press('Tab');
    if (await page.evaluate(`document.activeElement?.dataset.tab === '${id}'`)) return;
  }
  throw new Error(`Tab does not lead to ${target.toString()}`);
}

/** By finger or by keys alone: the same tasks are done both ways. */
export interface Hand {
  readonly name: string;
  readonly context: BrowserContextOptions;
  /** `ready` is waited for when the target is reached, just before it is pressed. */
  press(page: Page, target: Locator, ready?: () => Promise<void>): Promise<void>;
  write(page: Page, target: Locator, words: string): Promise<void>;
  /** The option of a list with these words. */
  choose(page: Page, target: Locator, words: string): Promise<void>;
}

export const finger: Hand = {
  name: 'by finger on a phone',
  context: { viewport: phone, hasTouch: true, isMobile: true },
  async press(_page, target, ready) {
    await target.first().scrollIntoViewIfNeeded();
    await ready?.();
    await target.first().tap();
  },
  write: (_page, target, words) => target.first().fill(words),
  async choose(_page, target, words) {
    await target.selectOption({ label: words });
  },
};

export const keys: Hand = {
  name: 'by keys alone on a laptop',
  context: { viewport: laptop },
  async press(page, target, ready) {
    await tabTo(page, target);
    await ready?.();
    const radioOrTick = await target.first().evaluate((element) => {
      const { type } = element as unknown as { type?: string };
      return type === 'checkbox' || type === 'radio';
    });
    await page.keyboard.press(radioOrTick ? 'Space' : 'Enter');
  },
  async write(page, target, words) {
    await tabTo(page, target);
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type(words);
  },
  async choose(page, target, words) {
    await tabTo(page, target);
    await page.keyboard.type(words);
  },
};
