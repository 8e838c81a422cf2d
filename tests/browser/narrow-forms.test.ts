/** On the narrowest phones a choice shows all that tells it from the others. */
import { expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

/** Widths in px: of the words of the chosen option, and of the room that its select has for them beside the arrow. */
const chosen = `((select) => {
  const style = getComputedStyle(select);
  const pen = document.createElement('canvas').getContext('2d');
  pen.font = style.font;
  const arrow = 20;
  const room = select.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - arrow;
  return { words: pen.measureText(select.selectedOptions[0].textContent).width, room };
})(document.activeElement)`;

it.skipIf(missing('Chromium', chromium))('a delivery in the form of a batch, at 360 px', async () => {
  const { page, open, end } = await visit({ context: { viewport: { width: 360, height: 740 } } });
  await open('#/plan');
  const batch = page.getByRole('region', { name: 'Plan a batch' });
  await batch.locator('summary').click();
  const delivery = batch.getByLabel('For', { exact: true });
  await delivery.focus();
  const { words, room } = await page.evaluate<{ words: number; room: number }>(chosen);
  expect(words).toBeLessThanOrEqual(room);
  await batch.getByText(/^\d+ queens free$/).waitFor();
  await end();
});

it.skipIf(missing('Chromium', chromium))(
  'a count stays beside its words when it is missing, at 360 px',
  async () => {
    const { page, open, end } = await visit({ context: { viewport: { width: 360, height: 740 } } });
    await open('#/log?nuc=n3&kind=cells-cut');
    const label = page.locator('.stepper-label').getByText('Sealed cells');
    const more = page.getByRole('button', { name: 'one step more: Sealed cells' });
    const middle = async (of: typeof label): Promise<number> => {
      const { y, height } = (await of.boundingBox())!;
      return y + height / 2;
    };
    for (const question of [/^Every frame checked/, /^Bees shaken off/])
      await page.getByRole('group', { name: question }).getByText('yes').click();
    await page.getByRole('button', { name: 'one step more: Open cells' }).click();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.locator('.question.missing').first().waitFor();
    expect(Math.abs((await middle(label)) - (await middle(more)))).toBeLessThan(12);
    await end();
  },
);
