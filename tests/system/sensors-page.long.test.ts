/** What a keeper does once for a sensor, on the Sensors page against the whole server: mappings, and calibrations. */
import { readFileSync } from 'node:fs';
import { connectAsync, type MqttClient } from 'mqtt';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { launch } from '../browser/chromium.ts';
import { chromium, missing } from '../support/programs.ts';
import { dropFolder, setupCodeOf, startServer, type RunningServer } from '../support/server-process.ts';

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name });
const shut = (page: Page) => page.getByRole('dialog').waitFor({ state: 'detached' });

describe.skipIf(missing('Chromium', chromium))('the Sensors page', () => {
  let server: RunningServer;
  let device: MqttClient;
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    server = await startServer();
    device = await connectAsync(server.mqtt);
    page = await browser.newPage({ viewport: { width: 1280, height: 900 }, timezoneId: 'Europe/Berlin' });
    page.setDefaultTimeout(20_000);
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(server.http);
    await page.getByLabel('Your name').fill('Maren');
    await page.getByLabel('Password').fill('four plain words here');
    await page.getByLabel('Setup code', { exact: true }).fill(setupCodeOf(server));
    await button(page, 'Set up').click();
    await page.getByText('Waiting for a first reading').waitFor();
    await page.goto(`${server.http}/#/sensors`);
    await page.getByRole('heading', { level: 1, name: 'Sensors' }).waitFor();
  });
  afterEach(async () => {
    await page.close();
    await device.endAsync(true);
    await server.stop();
    dropFolder(server.data);
    expect(complaints.splice(0)).toEqual([]);
  });
  const speak = (topic: string, message: object | number) =>
    device.publishAsync(topic, JSON.stringify(message), { qos: 1 });

  it('gives a mapping made on a pasted message away as a file and takes it in again', async () => {
    await button(page, 'Paste a message …').click();
    const sheet = page.getByRole('dialog');
    await sheet.getByLabel('Topic').fill('hut/box-3/up');
    await sheet.getByLabel('Message').fill('{"scale":{"weight_kg":9.5}}');
    await button(page, 'Read it').click();
    await sheet.locator('.outcome').getByText('9.50 kg').waitFor();
    await button(page, 'Save the mapping').click();
    await shut(page);
    const list = page.getByRole('region', { name: 'Mappings' });
    await page.getByRole('heading', { name: 'Mappings' }).click();
    await list.getByRole('checkbox', { name: 'in use' }).waitFor();

    const download = page.waitForEvent('download');
    await button(page, 'Save all as a file').click();
    const file = await (await download).path();
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({
      format: 'welcomb-mappings',
      version: 1,
      mappings: [{ topic: 'hut/+sensor/up', values: [{ quantity: 'weight', pointer: '/scale/weight_kg' }] }],
    });

    await button(page, /^Delete …/).click();
    await button(page, 'Delete it').click();
    await list.getByText('None yet.').waitFor();
    await speak('hut/box-3/up', { scale: { weight_kg: 10.25 } });
    const quarantine = page.getByRole('region', { name: 'Not understood' });
    await quarantine.getByText('hut/box-3/up').waitFor();

    await button(page, 'Take in from a file …').click();
    await page.getByLabel('A file saved here or elsewhere').setInputFiles(file);
    await button(page, 'Take them in').click();
    await shut(page);
    await list.getByText('1 taken in.').waitFor();
    await quarantine.getByText('Every message was understood.').waitFor();
    await page.getByText('10.25 kg').waitFor();

    await button(page, 'Take in from a file …').click();
    await sheet
      .getByLabel('Or its text')
      .fill('{"format":"welcomb-mappings","version":1,"mappings":[{"name":"x"}]}');
    await button(page, 'Take them in').click();
    await sheet
      .getByRole('alert')
      .getByText(/Nothing of this file was taken in: mappings\.0/)
      .waitFor();
    expect(await list.getByRole('listitem').count()).toBe(1);
  }, 60_000);

  it('makes a device, shows that it connected, and shuts it out while it is connected', async () => {
    await page.getByRole('heading', { name: 'Devices' }).click();
    await page.locator('summary').filter({ hasText: 'Add a device' }).click();
    await page.getByLabel('Name', { exact: true }).fill('scale-1');
    await page.getByRole('region', { name: 'Devices' }).getByLabel('Password').fill('propolis-14');
    await button(page, 'Add it').click();
    const list = page.getByRole('region', { name: 'Devices' }).getByRole('list');
    await list.getByText('never connected').waitFor();
    const named = await connectAsync(server.mqtt, {
      username: 'scale-1',
      password: 'propolis-14',
      reconnectPeriod: 0,
    });
    await named.publishAsync('welcomb/scale-1/weight', '12', { qos: 1 });
    await page.reload();
    await page.getByRole('heading', { name: 'Devices' }).click();
    await list.getByText(/connected .* ago/).waitFor();
    await button(page, /^Shut out …/).click();
    const closed = new Promise<void>((resolve) => {
      named.once('close', () => {
        resolve();
      });
    });
    await button(page, 'Shut it out').click();
    await closed;
  }, 60_000);

  it('calibrates a scale by a known weight from then on, and tares it', async () => {
    const topic = 'welcomb/scale-1/weight';
    const shows = (words: string) => page.getByText(words, { exact: true }).waitFor();
    // It reads 1.2 kg too much, and 5 % too much of what is put on.
    const raw = (kg: number): number => 1.2 + 1.05 * kg;
    await speak(topic, raw(0));
    await shows('1.20 kg');
    await button(page, /^Calibrate …/).click();
    const sheet = page.getByRole('dialog');
    await button(page, 'Take the empty reading').click();
    await sheet.getByText('1.200').waitFor();
    // Nothing has come since: the same reading must not pass for the loaded one.
    await button(page, 'Take the loaded reading').click();
    await sheet.getByText('No reading has come since the empty one; wait for the next.').waitFor();
    await speak(topic, raw(10));
    await button(page, 'Take the loaded reading').click();
    await sheet.getByText('11.700').waitFor();
    await sheet.getByLabel('The known weight, kg').fill('10');
    await button(page, 'Calibrate from now on').click();
    await shut(page);
    await speak(topic, raw(4));
    await shows('4.00 kg');

    // An empty box stays on it: that is its zero from now on, and a kilogram is still a kilogram.
    await button(page, /^Calibrate …/).click();
    await sheet.getByText(/by a known weight of 10\.00 kg/).waitFor();
    await sheet.getByLabel('it is empty now').check();
    await button(page, 'Calibrate from now on').click();
    await shut(page);
    await speak(topic, raw(7));
    await shows('3.00 kg');
  }, 60_000);

  it('makes a weight of a scale that sends raw counts, through mapping and calibration', async () => {
    // 20 counts a gram, 84,000 with nothing on it: beyond any weight, if they were kilograms.
    const counts = (kg: number) => ({ scale_raw: 84_000 + 20_000 * kg });
    await speak('hut/box-4/up', counts(0));
    await button(page, /^Say what it means/).click();
    const sheet = page.getByRole('dialog');
    await sheet.locator('.outcome').getByText('84,000 counts').waitFor();
    await sheet.locator('.outcome').getByText('no weight yet').waitFor();
    await button(page, 'Save the mapping').click();
    await shut(page);
    await page.getByText('84,000 counts', { exact: true }).waitFor();
    await page.getByText('It sends raw counts').waitFor();

    await button(page, /^Calibrate …/).click();
    await button(page, 'Take the empty reading').click();
    await sheet.getByText('84.000').waitFor();
    await speak('hut/box-4/up', counts(15));
    await button(page, 'Take the loaded reading').click();
    await sheet.getByText('384.000').waitFor();
    await sheet.getByLabel('The known weight, kg').fill('15');
    await button(page, 'Calibrate from now on').click();
    await shut(page);
    await speak('hut/box-4/up', counts(24.5));
    await page.getByText('24.50 kg', { exact: true }).waitFor();
    expect(await page.getByText('raw counts').count()).toBe(0);
    expect(await page.getByText(/suspect/).count()).toBe(0);
  }, 60_000);
});
