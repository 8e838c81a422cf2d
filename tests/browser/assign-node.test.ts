/** All channels of a new node are assigned in one act, and to no nuc that nobody chose. */
import { expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

it.skipIf(missing('Chromium', chromium))('a node is put at the nuc that was chosen', async () => {
  const { page, fixture, open, end } = await visit({ context: { viewport: phone } });
  const [first, ...others] = fixture.farm.channels.filter(({ assignment }) => assignment === null);
  if (!first) throw new Error('the invented farm has no sensor that waits');
  const probes = ['brood', 'outside'].map((probe, i) => ({
    ...first,
    id: 900 + i,
    sensor: 'node-new',
    probe,
  }));
  fixture.farm.channels = [
    ...fixture.farm.channels.filter((one) => one !== first && !others.includes(one)),
    ...probes,
  ];
  await open('#/sensors');
  await page.getByRole('button', { name: 'Assign all 2 of node-new …' }).click();
  const sheet = page.getByRole('dialog');
  const put = sheet.getByRole('button', { name: 'They stand there' });
  expect(await put.isDisabled()).toBe(true);
  await sheet.getByLabel('Nuc or parent colony').selectOption('n4');
  await put.click();
  await sheet.waitFor({ state: 'detached' });
  expect(fixture.changes).toMatchObject([
    { name: 'assign', body: { channelId: 900, place: 'brood', hiveId: 'n4' } },
    { name: 'assign', body: { channelId: 901, place: 'outside', siteId: 's1' } },
  ]);
  await end();
});

it.skipIf(missing('Chromium', chromium))(
  'a channel that is refused is told, though the others are put',
  async () => {
    const { page, fixture, open, end } = await visit({ context: { viewport: phone }, allow: /409/ });
    const first = fixture.farm.channels.find(({ assignment }) => assignment === null);
    if (!first) throw new Error('the invented farm has no sensor that waits');
    fixture.farm.channels = [
      ...fixture.farm.channels.filter(({ assignment }) => assignment !== null),
      ...['brood', 'outside'].map((probe, i) => ({ ...first, id: 900 + i, sensor: 'node-new', probe })),
    ];
    const detail = 'Another one stands there.';
    await page.route('**/api/v1/assignments', async (route) => {
      if (!(route.request().postData() ?? '').includes('901')) return route.fallback();
      return route.fulfill({
        status: 409,
        contentType: 'application/problem+json',
        body: JSON.stringify({ type: 'conflict', title: 'Refused', status: 409, detail }),
      });
    });
    await open('#/sensors');
    await page.getByRole('button', { name: 'Assign all 2 of node-new …' }).click();
    const sheet = page.getByRole('dialog');
    await sheet.getByLabel('Nuc or parent colony').selectOption('n4');
    await sheet.getByRole('button', { name: 'They stand there' }).click();
    await sheet.getByText(detail).waitFor();
    expect(fixture.changes).toMatchObject([{ name: 'assign', body: { channelId: 900 } }]);
    await end();
  },
);
