/**
 * A newcomer with an empty server, a page and a sensor that speaks its own nested JSON on a topic of its own: by what the
 * page says alone, from nothing to the own reading on the nuc's chart. A phone's screen, and a laptop's.
 */
import { connectAsync, type MqttClient } from 'mqtt';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { launch } from '../browser/chromium.ts';
import { chromium, missing } from '../support/programs.ts';
import {
  dropFolder,
  seenFrom,
  setupCodeOf,
  startServer,
  type RunningServer,
} from '../support/server-process.ts';

const sitesOf = (page: Page) =>
  page.evaluate<ResponseOf<'listSites'>>("fetch('api/v1/sites').then((answer) => answer.json())");

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();

async function passwordAndSite(page: Page, setupCode: string): Promise<void> {
  await page.getByLabel('Your name').fill('Maren');
  await page.getByLabel('Password').fill('four plain words here');
  await page.getByLabel('Setup code', { exact: true }).fill(setupCode);
  await page.getByLabel('Name of the site').fill('Lower Orchard');
  await page.getByText('Position and time zone').click();
  await page.getByLabel('Latitude').fill('52,1');
  await page.getByLabel('Longitude').fill('9.9');
  await press(page, 'Set up');
}

/** Every field that is filled and every tap is an input. */
function counted(page: Page) {
  let inputs = 0;
  return {
    async fill(label: string, words: string): Promise<void> {
      inputs += 1;
      await page.getByLabel(label, { exact: true }).fill(words);
    },
    async tap(name: string): Promise<void> {
      inputs += 1;
      await press(page, name);
    },
    inputs: () => inputs,
  };
}

describe.skipIf(missing('Chromium', chromium)).each([
  ['on a phone', { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }],
  ['on a laptop', { viewport: { width: 1440, height: 900 } }],
])('a newcomer %s', (_name, screen) => {
  let server: RunningServer;
  let device: MqttClient;
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    server = await startServer();
    device = await connectAsync(server.mqtt);
  });
  afterEach(async () => {
    await device.endAsync(true);
    await server.stop();
    dropFolder(server.data);
  });

  const speak = (celsius: number) => {
    const measured = { inside: { temp_c: celsius }, scale: { grams: 11_870 } };
    const message = { serial: 'a7', measured, power: { battery_mv: 3610 } };
    return device.publishAsync('garden/box-7/up', JSON.stringify(message), { qos: 1 });
  };

  it('comes from an empty folder to an own reading beside a rail in six inputs', async () => {
    const context = await browser.newContext({ ...screen, timezoneId: 'Europe/Berlin' });
    const page = await context.newPage();
    page.setDefaultTimeout(30_000);
    const { fill, tap, inputs } = counted(page);
    await page.goto(server.http);
    await fill('Password', 'four plain words here');
    await fill('Setup code', setupCodeOf(server));
    await tap('Set up');
    await page.getByText('Waiting for a first reading').waitFor();
    await device.publishAsync('welcomb/node-3/temperature/brood', '34.4', { qos: 1 });
    await device.publishAsync('welcomb/node-3/weight', '11.87', { qos: 1 });
    await page.getByText('scale under the nuc').waitFor();
    await tap('Add it with node-3');
    await page.getByRole('heading', { level: 1, name: 'Nuc 1' }).waitFor();
    await page.getByRole('region', { name: 'Rail' }).locator('svg').first().waitFor();
    const newest = page.getByRole('region', { name: 'Newest readings' });
    await newest.getByText('34.4 °C').waitFor();
    await newest.getByText('11.87 kg').waitFor();
    expect(inputs()).toBeLessThanOrEqual(6);
    await page.goto(`${server.http}/#/nucs`);
    await page.getByText('34.4 °C').waitFor();
    // The position is the main city of the zone, and says so.
    const [site] = (await sitesOf(page)).items;
    expect(site).toMatchObject({ timeZone: 'Europe/Berlin', latDeg: 52, lonDeg: 13 });
    expect(site?.note).toContain('Set your own');
    await context.close();
  }, 180_000);

  it('with nothing but this screen: comes to an own reading beside a rail without the setup code', async () => {
    await server.stop();
    await device.endAsync(true);
    dropFolder(server.data);
    server = await startServer({ args: ['--setup-minutes', '15'], env: seenFrom('192.168.7.2') });
    device = await connectAsync(server.mqtt);
    const page = await browser.newPage({ ...screen, timezoneId: 'Europe/Berlin' });
    page.setDefaultTimeout(30_000);
    const { fill, tap, inputs } = counted(page);
    await page.goto(server.http);
    await page.getByText('until then, anybody on this network could').waitFor();
    expect(await page.getByLabel('Setup code').count()).toBe(0);
    await fill('Password', 'four plain words here');
    await tap('Set up');
    await page.getByText('Waiting for a first reading').waitFor();
    await device.publishAsync('welcomb/node-3/temperature/brood', '34.4', { qos: 1 });
    await device.publishAsync('welcomb/node-3/weight', '11.87', { qos: 1 });
    await tap('Add it with node-3');
    await page.getByRole('region', { name: 'Rail' }).locator('svg').first().waitFor();
    await page.getByRole('region', { name: 'Newest readings' }).getByText('11.87 kg').waitFor();
    expect(inputs()).toBe(3);
    await page.close();
  }, 180_000);

  it('brings an unknown sensor from its first message to a reading on the nuc’s chart', async () => {
    const page = await browser.newPage({ ...screen, timezoneId: 'Europe/Berlin' });
    page.setDefaultTimeout(30_000);
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(server.http);
    await passwordAndSite(page, setupCodeOf(server));
    await page.getByText('Waiting for a first reading').waitFor();

    await speak(33.8);
    await press(page, 'Say what it means …');
    const outcome = page.getByRole('dialog').locator('.outcome');
    await outcome.getByText('33.8 °C').waitFor();
    await outcome.getByText('11.87 kg').waitFor();
    await outcome.getByText('3.61 V').waitFor();
    await press(page, 'Save the mapping');
    await page.getByLabel('Its name or number').fill('Nuc 1');
    await press(page, 'Add it with box-7');
    await page.getByRole('heading', { level: 1, name: 'Nuc 1' }).waitFor();
    await page.getByRole('main').getByRole('link', { name: /^Log/ }).first().click();
    await page.getByRole('heading', { name: 'Split made' }).waitFor();
    await page.getByText('seen in the parent').click();
    for (const what of ['bees', 'sealed brood', 'open brood', 'stores'])
      await press(page, `one step more: Frames of ${what}`);
    await press(page, 'Keep it');
    await page.getByText('Sent, and stored by the server.').waitFor();
    await page.getByRole('link', { name: 'Its page' }).click();
    await page.getByRole('heading', { level: 1, name: 'Nuc 1' }).waitFor();
    const newest = page.getByRole('region', { name: 'Newest readings' });
    await newest.getByText('33.8 °C').waitFor();
    await speak(33.9);
    await newest.getByText('33.9 °C').waitFor();

    // Where there is little room, the charts are folded.
    const charts = page.getByRole('region', { name: 'Charts' }).locator('details').first();
    if ((await charts.getAttribute('open')) === null) await charts.locator('summary').first().click();
    const chart = page.getByRole('figure').filter({ hasText: 'Warmth in the nuc' });
    await chart.scrollIntoViewIfNeeded();
    await chart.locator('summary').filter({ hasText: 'As a table' }).click();
    await chart
      .getByRole('cell', { name: /^33\.[89]/ })
      .first()
      .waitFor();
    await speak(34.1);
    // A day is drawn to the width of the screen, so that readings seconds apart share a place; the sentence has the last.
    await chart.getByText('The brood frame is at 34.1 °C.').waitFor();
    expect(complaints).toEqual([]);
    await page.close();
  }, 180_000);
});
