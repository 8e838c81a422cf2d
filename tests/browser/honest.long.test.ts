/** What is shown is what is so: a lost server, old readings, reloads without signal, other zones, units, names, numbers. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

/** It tries again after a wait that doubles up to half a minute: its clock runs until it has. */
const heardAgain = (page: Page): Promise<void> =>
  expect
    .poll(async () => {
      await page.clock.runFor(5_000);
      return page.locator('.line.live').count();
    })
    .toBe(1);

const gone = /Failed to load resource|EventSource|ERR_|net::/;

describe.skipIf(missing('Chromium', chromium))('the page', () => {
  it('says at once that the server is gone, keeps what it has with its age, and comes back by itself', async () => {
    const { page, fixture, open, end } = await visit({ allow: gone });
    await page.clock.install();
    await open('#/today');
    await page.locator('.line.live').waitFor();
    await fixture.down();
    await page.getByText('not live.').waitFor();
    await page.getByText(/Shown as of/).waitFor();
    await expect.poll(() => page.getByRole('article', { name: /^Keep Bramble 1 warm/ }).count()).toBe(1);
    await fixture.up();
    await heardAgain(page);
    await end();
  });

  it('finds out that a connection died without a word, and says so', async () => {
    const { page, open, end } = await visit({ allow: gone });
    await page.clock.install();
    await open('#/today');
    await page.locator('.line.live').waitFor();
    // The stream stays open and says nothing, and nothing else gets through.
    await page.route(/\/api\/v1\/(me|events)$/, (route) => route.abort());
    await page.clock.runFor(50_000);
    await page.getByText('not live.').waitFor();
    await page.getByText(/Shown as of/).waitFor();
    await page.unroute(/\/api\/v1\/(me|events)$/);
    await heardAgain(page);
    await end();
  });

  it('says without signal which nuc its page is about, and lets a visit be logged', async () => {
    const { page, context, open, end } = await visit({
      allow: gone,
      context: { viewport: phone, serviceWorkers: 'allow' },
    });
    await open('#/log');
    await page.getByText('Without signal', { exact: true }).click();
    await page.getByText(/opens without signal/).waitFor();
    await context.setOffline(true);
    await open('#/nucs/n3');
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe('Alder 3');
    await page.getByText(/^This nuc can’t be shown/).waitFor();
    await page.locator('main').getByRole('link', { name: 'Log a visit' }).click();
    await page.getByRole('heading', { level: 1, name: 'Log a visit' }).waitFor();
    await page.getByText('Alder 3').first().waitFor();
    await context.setOffline(false);
    await end();
  });

  it('opens and logs without signal, keeps an entry over a reload, sends it once', async () => {
    const { page, context, fixture, open, end } = await visit({
      allow: gone,
      context: { viewport: phone, serviceWorkers: 'allow' },
    });
    await open('#/log?nuc=n3&kind=fed');
    await page.getByText('Without signal', { exact: true }).click();
    await page.getByText(/opens without signal/).waitFor();
    await context.setOffline(true);
    await page.getByText('syrup').click();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Kept on this device, not sent yet').waitFor();
    await page.reload();
    await page.getByText('1 entry not sent yet').waitFor();
    await page.getByRole('listitem').filter({ hasText: 'Alder 3: Fed' }).waitFor();
    await context.setOffline(false);
    await expect.poll(() => fixture.farm.logged.size).toBe(1);
    await expect.poll(() => page.getByText('1 entry not sent yet').count()).toBe(0);
    await end();
  });

  it('offers without signal the form that fits a nuc whose page was never opened', async () => {
    const { page, context, fixture, open, end } = await visit({
      allow: gone,
      context: { viewport: phone, serviceWorkers: 'allow' },
    });
    const { details } = fixture.farm;
    const mesh = details.get('n4')!;
    details.set('n4', { ...mesh, setup: { ...mesh.setup!, method: 'push-in-cage' } });
    await open('#/today');
    await expect.poll(() => page.evaluate('!!navigator.serviceWorker.controller')).toBe(true);
    await expect
      .poll(() => page.evaluate("localStorage.getItem('welcomb.nucs') ?? ''"))
      .toContain('push-in-cage');
    await context.setOffline(true);
    await page.reload();
    await page.getByRole('link', { name: 'Log a visit' }).click();
    await page.getByRole('link', { name: 'Sorrel 4', exact: true }).click();
    const what = page.getByRole('region', { name: 'What did you do?' });
    await what.waitFor();
    expect(await what.innerText()).not.toMatch(/Candy end opened|Cage hung/);
    await what.getByRole('button', { name: 'Mesh pressed over her' }).click();
    await page.getByRole('heading', { name: 'Mesh pressed over her' }).waitFor();
    expect(await page.getByText(/candy end/i).count()).toBe(0);
    await page.getByRole('button', { name: /^Change/ }).click();
    expect(await page.getByRole('textbox', { name: /queen/i }).inputValue()).toBe('M-n4');
    // Another nuc, with candy: what was last known of the gate is said, and that it is no more than that.
    await page.evaluate("location.hash = '#/log?nuc=n1&kind=candy-opened'");
    await page.getByText(/As last known: wait/i).waitFor();
    await page.getByText('left whole').click();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Kept on this device, not sent yet').waitFor();
    await end();
  });

  it('keeps what the server refuses, with the reason, until it is dealt with', async () => {
    const { page, fixture, open, end } = await visit();
    await open('#/log?nuc=n3&kind=fed');
    // As if the introduction had been closed in the meantime.
    const detail = fixture.farm.details.get('n3')!;
    fixture.farm.details.set('n3', { ...detail, introductionId: 'another' });
    await page.getByText('syrup').click();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('There is no such introduction.').waitFor();
    await page.getByText('1 entry not sent yet, 1 needs you').waitFor();
    await page.getByRole('button', { name: 'Throw away …' }).click();
    await page.getByRole('button', { name: 'Throw it away' }).click();
    await expect.poll(() => page.getByText('not sent yet').count()).toBe(0);
    await end();
  });

  it('shows a reading as soon as it is told, without asking, and an old one as old', async () => {
    const { page, fixture, open, emit, end } = await visit();
    await open('#/nucs/n2');
    const readings = page.getByRole('region', { name: 'Newest readings' });
    await readings.getByText(/silent since/).waitFor();
    await page.route('**/api/v1/nucs/**', () => new Promise(() => undefined));
    const time = new Date(fixture.farm.nowMs()).toISOString();
    await emit({
      type: 'reading',
      channelId: 5,
      hiveId: 'n2',
      place: 'brood',
      value: 29.9,
      unit: 'Cel',
      time,
    });
    await readings.getByText('29.9 °C').waitFor();
    await page.unroute('**/api/v1/nucs/**');
    await end();
  });

  it('draws the bees of the nuc day by day, and saves a batch as CSV', async () => {
    const { page, open, end } = await visit();
    await open('#/nucs/n1');
    await page.locator('.answer > summary').filter({ hasText: /^Bees/ }).click();
    const bees = page.getByRole('img', { name: /^About 5,200 bees now/ });
    await bees.getByText('split').waitFor();
    await open('#/review');
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the batch as CSV' }).click();
    expect((await saved).suggestedFilename()).toBe('welcomb-batch.csv');
    await end();
  });

  it('shows the site’s clock and names its zone where this device has another', async () => {
    const farm = { timeZone: 'America/St_Johns', nowMs: Date.parse('2026-05-15T01:30:00Z') };
    const { page, open, end } = await visit({ farm });
    await open('#/today');
    await page.getByText('Thursday 14 May').waitFor();
    await page.getByText('America/St Johns time').first().waitFor();
    await end();
  });

  it('draws each day once over the night in which the clocks change', async () => {
    const farm = { nucs: 1, nowMs: Date.parse('2026-03-30T10:00:00Z') };
    const { page, open, end } = await visit({ farm, context: { viewport: phone } });
    await open('#/nucs/n1');
    const dates = page.getByRole('list', { name: 'The rail, day by day' }).locator('.day-date');
    await dates.first().waitFor();
    const days = await dates.allInnerTexts();
    expect(days.filter((words) => /^Sun 29/.test(words))).toHaveLength(1);
    expect(days.filter((words) => /^Mon 30/.test(words))).toHaveLength(1);
    await end();
  });

  it('speaks °F and lb on every page', async () => {
    const { page, open, end } = await visit({ farm: { temperature: 'F', weight: 'lb' } });
    for (const hash of ['#/today', '#/nucs', '#/nucs/n1', '#/review', '#/sensors']) {
      await open(hash);
      // Sentences of the server are set there.
      const words = await page.evaluate(`[...document.querySelectorAll('main *')]
        .filter((one) => one.children.length === 0 && !one.closest('.alert, pre, code, .nuc-words, .day-words, .signal, .answer, figcaption > p, select'))
        .map((one) => one.textContent).filter((one) => /\\d °C|\\d kg/.test(one))`);
      expect([hash, words]).toEqual([hash, []]);
    }
    await end();
  });

  it('speaks °F and lb among the newest readings', async () => {
    const { page, open, end } = await visit({ farm: { temperature: 'F', weight: 'lb' } });
    await open('#/nucs/n2');
    await page.getByText('Touch or point at the chart').first().waitFor();
    const words = await page.getByRole('region', { name: 'Newest readings' }).innerText();
    expect(words).toMatch(/\d °F/);
    expect(words).toMatch(/\d lb/);
    expect(words).not.toMatch(/°C|\d kg/);
    await end();
  });

  it('takes limits and weights of feed in °F and lb, and stores them as ever', async () => {
    const { fixture, page, open, end } = await visit({ farm: { temperature: 'F', weight: 'lb' } });
    await open('#/settings');
    const limits = page.getByRole('region', { name: 'Limits' });
    await limits.getByText('Brood chilling').click();
    const below = limits.getByLabel('Below this sealed brood suffers, °F');
    expect(await below.inputValue()).toBe('89.6');
    expect(await limits.innerText()).toMatch(/default 89\.6, 82\.4 to 93\.2/);
    await below.fill('88');
    await limits.getByRole('button', { name: /^Set it.*Below this/ }).click();
    await expect.poll(() => fixture.changes.find(({ name }) => name === 'putLimit')?.body).toBeDefined();
    const put = fixture.changes.find(({ name }) => name === 'putLimit')?.body as { value: number };
    expect(put.value).toBeCloseTo((88 - 32) / 1.8, 6);
    await open('#/log?nuc=n1&kind=fed');
    const much = page.getByRole('textbox', { name: 'How much, lb', exact: true });
    expect(await much.inputValue(), 'nothing is filled in').toBe('');
    await page.getByText('syrup').click();
    await page.getByRole('button', { name: 'one step more: How much, lb' }).click();
    expect(await much.inputValue()).toBe('2');
    await much.fill('4');
    await much.press('Tab');
    expect(await much.inputValue()).toBe('4');
    await page.getByRole('button', { name: /^Keep/ }).click();
    await expect.poll(() => fixture.changes.find(({ name }) => name === 'postLog')?.body).toBeDefined();
    const sent = fixture.changes.find(({ name }) => name === 'postLog')?.body as {
      entries: { fact: { kilograms: number } }[];
    };
    // 4 lb of 0.45359237 kg each.
    expect(sent.entries[0]?.fact.kilograms).toBeCloseTo(1.8144, 3);
    await end();
  });

  it('tries a limit of a rule on the past in °F', async () => {
    const { fixture, page, open, end } = await visit({ farm: { temperature: 'F', weight: 'lb' } });
    await open('#/review');
    await page.getByRole('heading', { name: 'Replay' }).click();
    const limit = page.getByLabel('Another limit');
    const option = limit.locator('option').filter({ hasText: 'Below this sealed brood suffers' });
    expect(await option.innerText()).toMatch(/now 89\.6 °F$/);
    await limit.selectOption({ label: await option.innerText() });
    await page.getByLabel('Try it at, °F').fill('88');
    await page.getByRole('button', { name: 'Run it' }).click();
    await expect.poll(() => fixture.changes.find(({ name }) => name === 'replay')?.body).toBeDefined();
    const { limits } = fixture.changes.find(({ name }) => name === 'replay')!.body as {
      limits: Record<string, Record<string, number>>;
    };
    expect(Object.values(limits['brood-chilling']!)[0]).toBeCloseTo((88 - 32) / 1.8, 6);
    await end();
  });

  it.each([0, 1, 300])('holds with %i nucs', async (nucs) => {
    const { page, open, end } = await visit({ farm: { nucs } });
    for (const hash of ['#/today', '#/nucs', '#/plan', '#/sensors', '#/review', '#/log', '#/settings']) {
      await open(hash);
      const wide = await page.evaluate(
        'document.documentElement.scrollWidth - document.documentElement.clientWidth',
      );
      expect([hash, wide]).toEqual([hash, 0]);
    }
    await end();
  });

  it('holds long names and names that run from right to left', async () => {
    const { page, open, end } = await visit({
      farm: { hardNames: true },
      context: { viewport: { width: 320, height: 700 } },
    });
    for (const hash of ['#/today', '#/nucs', '#/nucs/n1', '#/plan', '#/log', '#/sensors', '#/review']) {
      await open(hash);
      // A name in the other direction must not turn the words around it; an alert's sentence is the server's, as it is.
      const unfenced = await page.evaluate(`[...document.querySelectorAll('main *')]
        .filter((one) => [...one.childNodes].some((node) => node.nodeType === 3 && /[\\u0590-\\u06ff]/.test(node.data)))
        .filter((one) => !one.closest('bdi, [dir=auto], option, svg text, .hidden-words, .alert :is(h2, h3), .nuc-alert'))
        .map((one) => one.outerHTML.slice(0, 140))`);
      expect([hash, unfenced]).toEqual([hash, []]);
      const wide = await page.evaluate(
        'document.documentElement.scrollWidth - document.documentElement.clientWidth',
      );
      expect([hash, wide]).toEqual([hash, 0]);
      // A long name takes no room from the figures beside it, and ends within its drawing.
      const crushed = await page.evaluate(`[
        ...[...document.querySelectorAll('.nuc-name > :not(b)')].filter((one) => one.offsetHeight > 32),
        ...[...document.querySelectorAll('.batch-drawing svg text')].filter((one) =>
          one.getBoundingClientRect().right > one.ownerSVGElement.getBoundingClientRect().right + 1),
      ].map((one) => one.textContent)`);
      expect([hash, crushed]).toEqual([hash, []]);
    }
    await end();
  });

  it('lives below a base path', async () => {
    const { page, open, end } = await visit({ fixture: { basePath: '/home/bees' } });
    await open('#/today');
    await page.getByRole('link', { name: 'Nucs', exact: true }).click();
    // Today, which is still there for a moment, has headings with that name in them, too.
    await page.getByRole('heading', { name: 'Nucs', level: 1 }).waitFor();
    await page.getByRole('heading', { name: 'Lower Orchard', exact: true }).waitFor();
    await end();
  });

  it('leads from an empty server to the first split', async () => {
    const { page, fixture, open, end } = await visit({
      farm: { empty: true, passwordSet: false, signedIn: false },
      // The invented farm has no chart of a nuc that is made here.
      allow: /404/,
    });
    await open('#/today');
    await page.getByLabel('Your name').fill('Maren');
    await page.getByLabel('Password').fill('four plain words here');
    await page.getByLabel('Setup code').fill('7K2M-Q9RT');
    await page.getByLabel('Name of the site').fill('Lower Orchard');
    await page.getByText('Position and time zone').click();
    await page.getByLabel('Latitude').fill('52,1');
    await page.getByLabel('Longitude').fill('9.9');
    await page.getByRole('button', { name: 'Set up' }).click();
    await page.getByText('Waiting for a first reading').waitFor();
    await page.getByRole('button', { name: 'Later: go on without a sensor' }).click();
    await page.getByLabel('Its name or number').fill('Nuc 1');
    await page.getByRole('button', { name: 'Add the nuc' }).click();
    await page.getByRole('heading', { level: 1, name: 'Nuc 1' }).waitFor();
    expect(fixture.changes.map((change) => change.name)).toEqual([
      'setPassword',
      'addSite',
      'addHive',
      'openIntroduction',
    ]);
    await end();
  });

  it('asks for the password, and says when it is wrong', async () => {
    const { page, open, end } = await visit({ farm: { signedIn: false }, allow: gone });
    await open('#/today');
    await page.getByLabel('Name', { exact: true }).fill('Maren');
    await page.getByLabel('Password').fill('wrong');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText('do not belong together').waitFor();
    await page.getByLabel('Password').fill('good password');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { name: /^Today/, level: 1 }).waitFor();
    await end();
  });
});
