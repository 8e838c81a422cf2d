/** A visit that can't be kept yet leads to the question that is open; one that was kept leaves nobody lost on the page. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit } from './visit.ts';

const context = { viewport: phone, hasTouch: true, isMobile: true };
const focused = `document.activeElement?.closest('section, main, fieldset')?.querySelector('h1, h2, legend')?.textContent`;

describe.skipIf(missing('Chromium', chromium))('the form of a visit', () => {
  it('brings the question whose answer is missing into sight, marked and with the focus', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/log?nuc=n1&kind=split-made');
    const keep = page.getByRole('button', { name: 'Keep it' });
    await page.mouse.wheel(0, 5_000);
    const question = page.locator('.question', { hasText: 'The old queen was' });
    await keep.tap();
    const fault = page.getByRole('alert').getByText('Say where the old queen was');
    await fault.waitFor();
    await expect.poll(() => question.getAttribute('class')).toContain('missing');
    expect(await page.evaluate(focused)).toContain('The old queen was');
    const { y } = (await question.boundingBox()) ?? { y: -1 };
    expect(y).toBeGreaterThan(0);
    expect(y).toBeLessThan(phone.height / 2);
    await question.getByText('seen in the parent').tap();
    await expect.poll(() => question.getAttribute('class')).not.toContain('missing');
    expect(await fault.count()).toBe(0);
    await end();
  });

  it('starts at the top of what comes after it, for eyes and for keys', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/log?nuc=n1&kind=note');
    await page.getByRole('textbox', { name: 'Note' }).fill('All calm.');
    await page.mouse.wheel(0, 5_000);
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await page.getByRole('heading', { name: 'Written down.' }).waitFor();
    expect(await page.evaluate(focused)).toBe('Written down.');
    await page.evaluate('scrollTo(0, 5000)');
    await page.getByRole('link', { name: 'Next nuc' }).tap();
    await page.getByRole('heading', { name: 'Which nuc?' }).waitFor();
    expect(await page.evaluate('scrollY')).toBe(0);
    expect(await page.evaluate(focused)).toBe('Log a visit');
    await end();
  });

  it('says of each question whether it needs an answer, also of a distance', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/log?nuc=n1&kind=moved');
    await page.locator('.question', { hasText: /How far from the parent, m\s*needed/ }).waitFor();
    await open('#/log?nuc=n1&kind=cells-cut');
    await page.locator('.question', { hasText: 'Bees shaken off?' }).waitFor();
    expect(await page.locator('.question', { hasText: 'needed' }).count()).toBe(0);
    await end();
  });

  it('offers first what the plan has next', async () => {
    const there = await visit({ context });
    const one = there.fixture.farm.details.get('n1')!;
    const [step] = one.plan;
    const split = {
      ...step!,
      kind: 'split',
      logAs: 'split-made',
      label: 'Make the split',
      state: 'planned' as const,
    };
    there.fixture.farm.details.set('n1', { ...one, plan: [split], nextStep: split });
    await there.open('#/log?nuc=n1');
    const first = there.page.getByRole('region', { name: 'What did you do?' }).getByRole('button').first();
    await expect.poll(() => first.innerText()).toBe('Split made');
    await there.end();
  });

  it('asks for the frames of bees at once where bees are to be added and counted', async () => {
    const there = await visit({ context });
    const one = there.fixture.farm.details.get('n1')!;
    const [step] = one.plan;
    const look = { ...step!, kind: 'add-bees', logAs: 'inspection', state: 'due' as const };
    there.fixture.farm.details.set('n1', { ...one, plan: [look], nextStep: look });
    await there.open('#/log?nuc=n1');
    const { page, fixture } = there;
    await page.getByRole('button', { name: 'one step more: Frames of bees' }).tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await expect.poll(() => fixture.changes.find(({ name }) => name === 'postLog')?.body).toBeDefined();
    expect(fixture.changes.find(({ name }) => name === 'postLog')?.body).toMatchObject({
      entries: [{ fact: { kind: 'inspection', framesOfBees: 3 } }],
    });
    await there.end();
  });

  it('holds no gate against a look that the plan itself asks for', async () => {
    const there = await visit({ context });
    const one = there.fixture.farm.details.get('n1')!;
    const gates = one.gates.map((gate) => ({ ...gate, answer: 'wait' as const, headline: 'Not yet' }));
    const [step] = one.plan;
    const look = {
      ...step!,
      kind: 'add-bees',
      logAs: 'inspection',
      label: 'Add bees',
      state: 'due' as const,
    };
    there.fixture.farm.details.set('n1', { ...one, gates, plan: [look], nextStep: look });
    await there.open('#/log?nuc=n1&kind=looked-for-queen');
    await there.page.getByText('Not yet').first().waitFor();
    await there.open('#/log?nuc=n1&kind=inspection');
    await there.page.getByRole('heading', { name: 'Looked in, cut nothing' }).waitFor();
    await expect.poll(() => there.page.getByText('Not yet').count()).toBe(0);
    await there.end();
  });
});
