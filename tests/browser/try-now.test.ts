/** An entry that could not be sent, and a keeper who does not want to wait for the next try. */
import type { Route } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium))('Try now', () => {
  it('tries once more where a try that had begun before fails only then', async () => {
    const { page, fixture, open, end } = await visit({ context: { viewport: phone }, allow: /ERR_FAILED/ });
    await page.clock.install();
    await open('#/log?nuc=n3');
    await page.getByRole('button', { name: /^Remove.*Cage hung/ }).click();
    const held: Route[] = [];
    await page.route('**/api/v1/log', (route) => void held.push(route), { times: 1 });
    await page.getByRole('button', { name: 'Keep it' }).click();
    await expect.poll(() => held.length).toBe(1);
    // No timer of the page runs from here on: what is sent now is sent by the button.
    await page.clock.pauseAt((await page.evaluate<number>('Date.now()')) + 1000);
    await page.getByRole('button', { name: 'Try now' }).click();
    await held[0]?.abort();
    await page.getByText('Sent, and stored by the server.').waitFor();
    expect([...fixture.farm.logged.values()]).toEqual([1]);
    await end();
  });
});
