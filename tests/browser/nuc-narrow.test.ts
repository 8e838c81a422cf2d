/** The folded parts of a nuc's page on the narrowest phones: nothing cut off, nothing said twice, no empty table. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { visit } from './visit.ts';

const context = { viewport: { width: 360, height: 740 } };

describe.skipIf(missing('Chromium', chromium))('a nuc’s page at 360 px', () => {
  it('says the note of an entry once', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const one = fixture.farm.details.get('n3')!;
    const [first, ...others] = one.log;
    const note = 'Queen left on the parent’s stand.';
    const noted = { ...first!, entry: { ...first!.entry, note }, text: `${first!.text} — ${note}` };
    fixture.farm.details.set('n3', { ...one, log: [noted, ...others] });
    await open('#/nucs/n3');
    const log = page.locator('details').filter({ has: page.getByRole('heading', { name: 'Log' }) });
    await log.locator('summary').first().click();
    await log.locator('.note').waitFor();
    const words = await log.locator('li').filter({ hasText: note }).locator('p').allInnerTexts();
    expect(words.join(' ').split(note)).toHaveLength(2);
    await end();
  });

  it('says why a rule is quiet in whole words, and draws no table of nothing', async () => {
    const { page, open, end } = await visit({ context });
    const at = new Date().toISOString();
    const about =
      'A good part of a sensor’s readings is outside of its range, jumps, or is a known error value.';
    const condition = { name: 'Share of suspect readings', value: '0 %', limit: '5 %', met: false };
    const rule = { title: 'Sensor sends what can’t be, brood probe of Bramble 3', about, at };
    const items = [
      { ...rule, ruleId: 'one', verdict: 'no', conditions: [condition] },
      { ...rule, ruleId: 'two', verdict: 'not-applicable', conditions: [], quietBecause: 'it is no probe' },
    ];
    await page.route('**/nucs/n3/evaluations', (route) => route.fulfill({ json: { items } }));
    await open('#/nucs/n3');
    await page.getByRole('heading', { name: 'Why, and why not' }).click();
    const rules = page.locator('.evaluations');
    await rules.locator('.verdict').first().waitFor();
    for (const summary of await rules.locator('summary').all()) await summary.click();
    for (const verdict of await rules.locator('.verdict').all())
      expect((await verdict.boundingBox())?.height).toBeLessThan(30);
    const [list, words] = [await rules.boundingBox(), await rules.getByText(about).first().boundingBox()];
    expect(words!.x + words!.width).toBeLessThanOrEqual(list!.x + list!.width + 0.5);
    expect(list!.x + list!.width).toBeLessThan(360 - 20);
    expect(await rules.getByRole('table').count()).toBe(1);
    await end();
  });

  it('leaves no word of the trade by itself', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/nucs/n3');
    const foragers = page.locator('details.answer').filter({ hasText: /^Foragers/ });
    await foragers.locator('summary').click();
    await foragers.getByRole('button', { name: 'drift' }).waitFor();
    expect(await foragers.innerText()).toContain('This is called drift.');
    await end();
  });

  it('draws the bees with their unit, and no words beyond the drawing', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const one = fixture.farm.details.get('n3')!;
    const population = { ...one.population!, release: { day: 10, framesOfBees: 12.9, done: false } };
    fixture.farm.details.set('n3', { ...one, population });
    await open('#/nucs/n3');
    await page.locator('.answer > summary').filter({ hasText: /^Bees/ }).click();
    const drawing = page.locator('.bees-drawing svg');
    await drawing.waitFor();
    const beyond = await page.evaluate<string[]>(`(() => {
      const svg = document.querySelector('.bees-drawing svg');
      const { left, right } = svg.getBoundingClientRect();
      const boxOf = (text) => text.getBoundingClientRect();
      return [...svg.querySelectorAll('text')]
        .filter((text) => boxOf(text).left < left - 0.5 || boxOf(text).right > right + 0.5)
        .map((text) => text.textContent);
    })()`);
    expect(beyond).toEqual([]);
    expect(await drawing.locator('text').allTextContents()).toEqual(expect.arrayContaining(['bees', 'day']));
    await end();
  });
});
