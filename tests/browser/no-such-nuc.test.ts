/** The page of a nuc that is not there says so and leads back, instead of asking again for ever. */
import { expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

const problem = {
  status: 404,
  contentType: 'application/problem+json',
  body: JSON.stringify({
    type: 'not-found',
    title: 'Not found',
    status: 404,
    detail: 'There is no nuc gone.',
  }),
};

it.skipIf(missing('Chromium', chromium))('says that there is none, and leads to the list', async () => {
  const { page, open, end } = await visit({ context: { viewport: phone }, allow: /404/ });
  await page.route('**/api/v1/nucs/gone', (route) => route.fulfill(problem));
  await open('#/nucs/gone');
  await page.getByRole('heading', { level: 1, name: 'No such nuc' }).waitFor();
  expect(await page.getByRole('button', { name: 'Ask again' }).count()).toBe(0);
  await page.getByRole('link', { name: 'See all nucs' }).click();
  await page.getByRole('heading', { level: 1, name: 'Nucs' }).waitFor();
  await end();
});
