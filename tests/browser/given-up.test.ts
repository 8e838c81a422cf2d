/** What nobody was told of stands in Settings: what still waits, and what a channel gave up on. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('an alert that a channel gave up on', () => {
  it('stands in Settings with the channel, the alert and the reason, beside what still waits', async () => {
    const at = await visit();
    const since = new Date(at.fixture.farm.nowMs() - 4 * 86_400_000).toISOString();
    at.fixture.farm.untold = [
      {
        to: 'Garden hub',
        since,
        tries: 31,
        problem: 'nobody answers',
        gaveUp: true,
        what: 'Box gone from its scale, Nuc 7',
      },
      { to: 'Evening mail', since, tries: 2, problem: 'try again later' },
    ];
    await at.open('#/settings');
    const server = at.page.getByRole('region', { name: 'Server and backup', exact: true });
    await expect.poll(() => server.innerText()).toContain('Given up: Garden hub');
    const words = await server.innerText();
    expect(words).toMatch(/Box gone from its scale, Nuc 7\. Since .*, tried 31 times\. nobody answers/);
    expect(words).toContain('Not sent yet: Evening mail');
    await at.end();
  });
});
