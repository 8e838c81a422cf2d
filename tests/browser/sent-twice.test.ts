/** An answer that is lost on the way: pressed again, the same thing is sent, so that it is made once. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('a batch whose answer got lost', () => {
  it('is sent under the same id again, and the next one under another', async () => {
    const { page, fixture, open, end } = await visit({
      context: { viewport: phone },
      allow: /ERR_FAILED/,
    });
    const ids = (): unknown[] =>
      fixture.changes
        .filter(({ name }) => name === 'createBatch')
        .map(({ body }) => (body as { id?: string }).id);
    await page.route(
      '**/plan/batches',
      async (route) => {
        await route.fetch();
        await route.abort();
      },
      { times: 1 },
    );
    await open('#/plan');
    const batch = page.getByRole('region', { name: 'Plan a batch' });
    await batch.locator('summary').click();
    const plan = batch.getByRole('button', { name: 'Plan 6 nucs' });
    await plan.click();
    await batch.getByRole('alert').getByText('The server does not answer.').waitFor();
    await plan.click();
    await page.getByText('6 nucs planned.').waitFor();
    await page.getByRole('button', { name: 'Plan another batch' }).click();
    await plan.click();
    await page.getByText('6 nucs planned.').waitFor();
    const [first, again, next] = ids();
    expect(first).toMatch(/^[0-9a-f]{32}$/);
    expect(again).toBe(first);
    expect(next).toMatch(/^[0-9a-f]{32}$/);
    expect(next).not.toBe(first);
    await end();
  });
});
