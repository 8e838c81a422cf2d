/** A stored setting that can't be read stands by name on every page, and is replaced only where that is ticked. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('a setting that can’t be read', () => {
  it('is named on Today, stays when the form is kept, and is gone once it was put right', async () => {
    const at = await visit();
    at.fixture.farm.settingFaults = [
      {
        name: 'farm.rawKeepDays',
        problem: 'expected number',
        effect: 'No reading is deleted until it is put right.',
        stored: '"ten years"',
      },
    ];
    await at.open('#/today');
    const banner = at.page.locator('.setting-faults');
    await expect
      .poll(() => banner.innerText())
      .toContain('farm.rawKeepDays can’t be read (stored: "ten years")');
    await at.open('#/settings');
    const form = at.page.getByRole('region', { name: 'Farm', exact: true });
    const keep = form.getByRole('button', { name: 'Keep these' });
    await keep.click();
    await form.getByText('Kept.').waitFor();
    expect(at.fixture.farm.settingFaults).toHaveLength(1);
    await form.getByLabel(/Replace the stored rawKeepDays/).check();
    await keep.click();
    await expect.poll(() => at.fixture.farm.settingFaults?.length).toBe(0);
    await expect.poll(() => banner.count()).toBe(0);
    await at.end();
  });
});
