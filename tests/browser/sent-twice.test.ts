/** An answer that is lost on the way: pressed again, the same thing is sent, so that it is made once. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('a key for a program whose answer got lost', () => {
  it('is asked for under the same id again, and the next one under another', async () => {
    const { page, fixture, open, end } = await visit({ context: { viewport: phone }, allow: /ERR_FAILED/ });
    let isLost = false;
    await page.route('**/api/v1/tokens', async (route) => {
      if (isLost || route.request().method() !== 'POST') return route.fallback();
      isLost = true;
      await route.fetch();
      return route.abort();
    });
    await open('#/settings');
    const keys = page.getByRole('region', { name: 'Keys for programs' });
    await keys.getByText('Make a key').click();
    await keys.getByLabel('What for').fill('shed display');
    const make = keys.getByRole('button', { name: 'Make it' });
    await make.click();
    await keys.getByRole('alert').getByText('The server does not answer.').waitFor();
    await make.click();
    await keys.getByText('Shown this once').waitFor();
    await keys.getByLabel('What for').fill('another');
    await make.click();
    await expect.poll(() => fixture.changes.filter(({ name }) => name === 'addToken').length).toBe(3);
    const [first, again, next] = fixture.changes
      .filter(({ name }) => name === 'addToken')
      .map(({ body }) => (body as { id?: string }).id);
    expect(first).toMatch(/^[0-9a-f]{32}$/);
    expect(again).toBe(first);
    expect(next).toMatch(/^[0-9a-f]{32}$/);
    expect(next).not.toBe(first);
    await end();
  });
});

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
