/** One nuc without a batch: planned again after half of it was lost, and from a delivery without a day of its own. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

async function partOf(page: Page) {
  await page.locator('summary').filter({ hasText: 'Plan one nuc' }).click();
  const part = page.getByRole('region', { name: 'Plan one nuc' });
  await part.getByLabel('Name of the nuc').fill('Rowan');
  return { part, plan: part.getByRole('button', { name: 'Plan this nuc' }) };
}

describe.skipIf(missing('Chromium', chromium))('one nuc', () => {
  it('is planned when tried again after its box was made and its plan was not', async () => {
    const { page, fixture, open, emit, end } = await visit({ allow: /ERR_FAILED/ });
    await open('#/plan');
    const { part, plan } = await partOf(page);
    await page.route('**/introductions', (route) => route.abort(), { times: 1 });
    await plan.click();
    await part.getByText('The server does not answer.').waitFor();
    await emit({ type: 'nuc', id: 'n1' });
    await page.waitForResponse(/\/hives$/);
    await plan.click();
    await part.getByText('Planned.').waitFor();
    expect(fixture.changes.map(({ name }) => name)).toContain('openIntroduction');
    await end();
  });

  it('needs no day of its split where its queen comes with a delivery', async () => {
    const { page, open, end } = await visit();
    await open('#/plan');
    const { part, plan } = await partOf(page);
    await part.getByLabel('Day of the split').fill('');
    await part.getByLabel('Its queen comes with').selectOption({ index: 1 });
    await plan.click();
    await part.getByText('Planned.').waitFor();
    await end();
  });
});
