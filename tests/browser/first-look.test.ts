/** What Today says before everything was looked at, and what a page shows of a reading that can't be true. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { alertFor } from './invented/alerts.ts';
import { phone, visit } from './visit.ts';

const context = { viewport: phone, hasTouch: true, isMobile: true };

describe.skipIf(missing('Chromium', chromium))('Today', () => {
  it('says that it is still looking, until everything was looked at', async () => {
    const { page, fixture, open, emit, end } = await visit({ context });
    fixture.farm.alerts = [];
    fixture.farm.looking = true;
    await open('#/today');
    const now = page.getByRole('region', { name: 'Now' });
    await now.getByText('Nothing found so far. Still looking through the readings.').waitFor();
    expect(await page.locator('.page-head').innerText()).toMatch(/Still looking/);
    fixture.farm.looking = false;
    await emit({ type: 'status' });
    await now.getByText('Nothing is wrong as far as the sensors show.').waitFor();
    expect(await page.locator('.page-head').innerText()).toMatch(/Nothing needs you now/);
    await end();
  });

  it('says what needs somebody today where nothing does now', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const { farm } = fixture;
    farm.alerts = [{ ...alertFor(farm.cases[2]!, farm.nowMs()), urgency: 'today' }];
    await open('#/today');
    await expect.poll(() => page.locator('.page-head').innerText()).toMatch(/1 needs you today/);
    await end();
  });

  it('says once what was seen, and that an alert that somebody saw is not over', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const { farm } = fixture;
    farm.alerts = [alertFor(farm.cases[2]!, farm.nowMs())];
    await open('#/today');
    const head = page.locator('.page-head');
    await expect.poll(() => head.innerText()).toMatch(/1 needs you now/);
    const card = page.getByRole('region', { name: 'Now' }).getByRole('article');
    await card.locator('summary').filter({ hasText: 'Why' }).tap();
    await card.getByText('Rests on 14 readings').waitFor();
    const words = (await card.innerText()).split('Brood at 31.4 °C').length - 1;
    expect([words, await card.locator('canvas, svg').count()]).toEqual([1, 1]);
    await card.getByText('Outside 4.8 °C.').waitFor();
    await card.getByRole('button', { name: /^Seen/ }).tap();
    await expect.poll(() => head.innerText()).toMatch(/1 seen, not over yet/);
    await end();
  });

  it('calls nothing well while no sensor reports', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const { farm } = fixture;
    farm.alerts = [];
    for (const [id, one] of farm.details) farm.details.set(id, { ...one, latest: {} });
    await open('#/today');
    await page.getByText('No sensor reports from a nuc yet.').waitFor();
    await end();
  });
});

describe.skipIf(missing('Chromium', chromium))('an error value', () => {
  it('is shown as a fault and not as a temperature, also when it comes in live', async () => {
    const { page, fixture, open, emit, end } = await visit({ context });
    await open('#/nucs/n3');
    const readings = page.getByRole('region', { name: 'Newest readings' });
    await readings.waitFor();
    const time = new Date(fixture.farm.nowMs()).toISOString();
    const failing = { value: -127, unit: 'Cel', time, suspect: true, impossible: true };
    await emit({ type: 'reading', channelId: 5, hiveId: 'n3', place: 'brood', ...failing });
    await readings.getByText('sensor fault').waitFor();
    expect(await readings.innerText()).not.toContain('127');
    await end();
  });
});
