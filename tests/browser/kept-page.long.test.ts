/** The page kept on the device opens where the server does not answer in time. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('the kept page', () => {
  it('opens within seconds on a line on which nothing comes back', async () => {
    const { page, fixture, open, end } = await visit({
      context: { viewport: phone, serviceWorkers: 'allow' },
    });
    await open('#/today');
    await expect.poll(() => page.evaluate('!!navigator.serviceWorker.controller')).toBe(true);
    fixture.holdPage(true);
    await page.reload({ timeout: 10_000 });
    await page.getByRole('heading', { level: 1 }).waitFor();
    fixture.holdPage(false);
    await end();
  });
});
