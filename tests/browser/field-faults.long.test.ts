/** What the server finds wrong with a field stands beside that field, and goes when it is changed. */
import { expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

it.skipIf(missing('Chromium', chromium))('a refused address is marked in its field', async () => {
  const { page, open, end } = await visit({ context: { viewport: phone }, allow: /400/ });
  const detail = 'Write an http or https address.';
  await page.route('**/settings/farm', async (route) => {
    if (route.request().method() !== 'PUT') return route.fallback();
    const errors = [{ pointer: '#/heartbeatUrl', detail }];
    const body = {
      type: 'invalid-input',
      title: 'Refused',
      status: 400,
      detail: 'It can’t be called.',
      errors,
    };
    return route.fulfill({
      status: 400,
      contentType: 'application/problem+json',
      body: JSON.stringify(body),
    });
  });
  await open('#/settings');
  const farm = page.getByRole('region', { name: 'Farm', exact: true });
  const address = farm.getByLabel('Heartbeat address');
  await address.fill('bees');
  await farm.getByRole('button', { name: 'Keep these' }).click();
  await farm.getByRole('alert').getByText('It can’t be called.').waitFor();
  expect(await address.getAttribute('aria-invalid')).toBe('true');
  expect(await address.getAttribute('aria-describedby')).toMatch(/-fault$/);
  expect(await farm.getByText(detail).count()).toBe(1);
  await address.fill('https://bees.test/');
  expect(await address.getAttribute('aria-invalid')).toBe('false');
  expect(await farm.getByText(detail).count()).toBe(0);
  await end();
});

it.skipIf(missing('Chromium', chromium))('days that can’t be noted are not passed over', async () => {
  const { page, fixture, open, end } = await visit({ context: { viewport: phone } });
  await open('#/plan');
  const days = page.getByRole('region', { name: 'Days you can’t work' });
  await days.locator('summary').click();
  await days.getByLabel('From').fill('2031-06-10');
  const put = days.getByRole('button', { name: 'Can’t work then' });
  for (const [to, fault] of [
    ['2031-06-01', 'It lies before the first day.'],
    ['2031-09-01', 'At most 62 days at a time.'],
  ] as const) {
    await days.getByLabel('To, if more than a day').fill(to);
    await days.getByText(fault).waitFor();
    expect(await put.isDisabled()).toBe(true);
  }
  await days.getByLabel('To, if more than a day').fill('2031-06-11');
  await put.click();
  await expect
    .poll(() => fixture.changes.find(({ name }) => name === 'setUnavailable')?.body)
    .toEqual({ days: expect.arrayContaining(['2031-06-10', '2031-06-11']) as unknown });
  await end();
});

it.skipIf(missing('Chromium', chromium))(
  'the farm’s settings go out with what was read before, and show what came back',
  async () => {
    const { page, fixture, open, end } = await visit({ context: { viewport: phone } });
    await open('#/settings');
    const farm = page.getByRole('region', { name: 'Farm', exact: true });
    const keep = farm.getByRole('button', { name: 'Keep these' });
    const sent = () => fixture.changes.filter(({ name }) => name === 'putFarm').map(({ body }) => body);
    const first = fixture.farm.farm;
    // Another keeper saved meanwhile: the answer has both.
    await page.route('**/settings/farm', async (route) => {
      if (route.request().method() !== 'PUT') return route.fallback();
      const answer = await route.fetch();
      fixture.farm.farm = { ...fixture.farm.farm, backupKeep: 77 };
      return route.fulfill({ response: answer, json: fixture.farm.farm });
    });
    await farm.getByLabel('Name', { exact: true }).fill('Valley');
    await keep.click();
    await farm.getByText('Kept.').waitFor();
    expect(await farm.getByRole('textbox', { name: 'Backups kept' }).inputValue()).toBe('77');
    const second = fixture.farm.farm;
    await farm.getByLabel('Folder for backups').fill('/mnt/other');
    await keep.click();
    await expect.poll(() => sent().length).toBe(2);
    expect(sent()).toMatchObject([
      { farmName: 'Valley', read: first },
      { farmName: 'Valley', backupKeep: 77, backupFolder: '/mnt/other', read: second },
    ]);
    await end();
  },
);

it.skipIf(missing('Chromium', chromium))('a number that can be read in two ways is not guessed', async () => {
  const { page, open, end } = await visit({ context: { viewport: phone, locale: 'en-GB' } });
  await open('#/settings');
  const farm = page.getByRole('region', { name: 'Farm', exact: true });
  const limit = farm.getByRole('textbox', { name: 'Let the queen out when a rival is less likely than' });
  const before = await limit.inputValue();
  await limit.fill('1,234');
  await limit.blur();
  await farm.getByText('Write 1234 or 1.234: the comma can mean either.').waitFor();
  expect(await limit.inputValue()).toBe(before);
  await limit.fill('4,5');
  await limit.blur();
  expect(await limit.inputValue()).toBe('4.5');
  expect(await farm.getByText('can mean either').count()).toBe(0);
  await end();
});
