/**
 * A channel that stands at a nuc is taken away with its readings kept, or forgotten with them: the page says which. Moved,
 * it starts where it stands, so that one press too many sends it nowhere.
 */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('an assigned channel', () => {
  it('is moved from where it stands, and only to another place', async () => {
    const at = await visit({ context: { viewport: phone } });
    const { channels } = at.fixture.farm;
    const channel = channels.find(
      ({ assignment }) => assignment?.hiveId === 'n3' && assignment.place === 'cage',
    );
    await at.open('#/sensors');
    const group = at.page.locator('.owner-group').filter({ hasText: channel?.assignment?.ownerName ?? '' });
    await group.first().locator('summary').first().click();
    await group.getByText('beside the cage').first().click();
    await group
      .getByRole('button', { name: /^Move …/ })
      .first()
      .click();
    const sheet = at.page.getByRole('dialog');
    const nuc = sheet.getByLabel('Nuc or parent colony');
    const put = sheet.getByRole('button', { name: 'It stands there' });
    expect(await nuc.inputValue()).toBe('n3');
    expect(await sheet.getByRole('radio', { name: 'beside the cage' }).isChecked()).toBe(true);
    expect(await put.isDisabled()).toBe(true);
    await nuc.selectOption('n4');
    await put.click();
    await expect
      .poll(() => at.fixture.changes.find(({ name }) => name === 'assign')?.body)
      .toMatchObject({ hiveId: 'n4', place: 'cage', channelId: channel?.id, takesOver: true });
    // In one request: a refusal leaves it where it stands.
    expect(at.fixture.changes.map(({ name }) => name)).toEqual(['assign']);
    await at.end();
  });

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
