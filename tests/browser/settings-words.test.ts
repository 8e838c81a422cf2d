/** What Settings says of who is here, of defaults, and of where words come from. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('Settings', () => {
  it('offers nobody to sign out where no password is set, and names the role once', async () => {
    const { page, open, end } = await visit({ farm: { passwordSet: false }, context: { viewport: phone } });
    await open('#/settings');
    const you = page.getByRole('region', { name: 'You' });
    expect(await you.innerText()).toMatch(/^You\s+keeper: may do everything\s+No password is set/);
    expect(await you.getByRole('button').count()).toBe(0);
    await end();
  });

  it('calls a default so, and names the usual source of words once', async () => {
    const { page, open, end } = await visit({ context: { viewport: phone } });
    await open('#/settings');
    expect(await page.locator('main').innerText()).not.toMatch(/\bstandard\b/i);
    const words = page.getByRole('region', { name: 'Words and cautions' });
    await words.getByText('Words of the trade').click();
    expect((await words.innerText()).split('common practice')).toHaveLength(2);
    await end();
  });
});
