/** A channel that stands at a nuc is taken away with its readings kept, or forgotten with them: the page says which. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('an assigned channel', () => {
  it.each([
    ['Take it away, keep its readings', 'changeAssignment', { to: expect.any(String) as string }],
    ['Forget it with its readings', 'forgetChannels', { ids: [1], evenAssigned: true }],
  ] as const)('%s', async (button, name, body) => {
    const at = await visit({ context: { viewport: phone } });
    await at.open('#/sensors');
    const group = at.page
      .locator('.owner-group')
      .filter({ hasText: at.fixture.farm.channels[0]?.assignment?.ownerName ?? '' });
    await group.first().locator('summary').first().click();
    await group.getByText('scale-1').first().click();
    await at.page.getByRole('button', { name: 'Forget … scale-1, weight' }).click();
    const sheet = at.page.getByRole('dialog');
    await sheet
      .getByText('5000 readings stay in the charts')
      .or(sheet.getByText('5,000 readings stay'))
      .waitFor();
    await sheet.getByRole('button', { name: button }).click();
    await expect.poll(() => at.fixture.changes.map((one) => one.name)).toEqual([name]);
    expect(at.fixture.changes[0]?.body).toEqual(body);
    await at.end();
  });
});
