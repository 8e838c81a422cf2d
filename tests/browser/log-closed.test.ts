/** An introduction is closed elsewhere while a visit is being written down: what is written stays, and the page says so. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

const context = { viewport: phone };

describe.skipIf(missing('Chromium', chromium))('an introduction that is closed elsewhere', () => {
  it('leaves the form as it is, says what happened and keeps nothing for it', async () => {
    const { page, fixture, open, emit, end } = await visit({ context });
    await open('#/log?nuc=n3&kind=fed');
    await page.getByText('syrup').click();
    await page.locator('.note-field summary').click();
    await page.getByRole('textbox', { name: 'Note' }).fill('two litres');
    const detail = fixture.farm.details.get('n3')!;
    fixture.farm.details.set('n3', { ...detail, introductionId: null, setup: null });
    await emit({ type: 'nuc', id: 'n3', logged: true });
    await page
      .getByRole('alert')
      .getByText(`Somebody closed or put away ${detail.hive.name}. What you wrote still stands here.`)
      .waitFor();
    expect(await page.getByRole('radio', { name: 'syrup' }).isChecked()).toBe(true);
    expect(await page.getByRole('textbox', { name: 'Note' }).inputValue()).toBe('two litres');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText(`No introduction is open in ${detail.hive.name} any more.`).waitFor();
    expect(fixture.changes).toEqual([]);
    // The other took it back: it can be kept after all.
    fixture.farm.details.set('n3', detail);
    await emit({ type: 'nuc', id: 'n3', logged: true });
    await expect.poll(() => page.getByText('Somebody closed').count()).toBe(0);
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Sent, and stored by the server.').waitFor();
    await end();
  });

  it('leaves the form also where the nuc was put away altogether', async () => {
    const { page, fixture, open, emit, end } = await visit({ context, allow: /404/ });
    await open('#/log?nuc=n3&kind=fed');
    await page.getByText('syrup').click();
    const detail = fixture.farm.details.get('n3')!;
    fixture.farm.details.delete('n3');
    await emit({ type: 'nuc', id: 'n3' });
    await page.getByText(`Somebody closed or put away ${detail.hive.name}.`).waitFor();
    expect(await page.getByRole('radio', { name: 'syrup' }).isChecked()).toBe(true);
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText(`No introduction is open in ${detail.hive.name} any more.`).waitFor();
    expect(fixture.changes).toEqual([]);
    await end();
  });

  it('can be unticked where the visit is for others too', async () => {
    const { page, fixture, open, emit, end } = await visit({ context });
    await open('#/log?nucs=n1,n2&kind=fed');
    await page.getByText('syrup').click();
    const detail = fixture.farm.details.get('n1')!;
    fixture.farm.details.set('n1', { ...detail, introductionId: null, setup: null });
    await emit({ type: 'nuc', id: 'n1', logged: true });
    await page.getByText('Somebody closed').waitFor();
    await page.getByRole('checkbox', { name: detail.hive.name }).click();
    await expect.poll(() => page.getByText('Somebody closed').count()).toBe(0);
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Sent, and stored by the server.').waitFor();
    expect(fixture.changes).toMatchObject([
      { name: 'postLog', body: { entries: [{ introductionId: 'intro-n2' }] } },
    ]);
    await end();
  });
});
