/** A nuc whose queen is dead: what is left to do stands on its page and on Today, without a day that nobody set. */
import { describe, expect, it } from 'vitest';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit, type Visit } from './visit.ts';

const context = { viewport: phone, hasTouch: true, isMobile: true };

/** Her queen is logged as dead: another one may come, and nothing waits for her. */
function loseQueen({ fixture: { farm } }: Visit): void {
  const one = farm.details.get('n3')!;
  const step = one.plan.find(({ state }) => state !== 'done') ?? one.plan[0]!;
  const now = new Date(farm.nowMs()).toISOString();
  const next = {
    ...step,
    id: 'n3-next',
    kind: 'queen-arrives',
    label: 'The next queen arrives',
    logAs: 'queen-arrived',
    whatToDo: 'Take her in.',
    state: 'planned' as const,
    offered: true,
    earliest: now,
    target: now,
    latest: new Date(farm.nowMs() + 86_400_000).toISOString(),
  };
  farm.details.set('n3', { ...one, stage: 'failed', stageName: 'failed', plan: [next], nextStep: null });
}

describe.skipIf(missing('Chromium', chromium))('a nuc whose queen is dead', () => {
  it('says on its page what is left to do, and no day', async () => {
    const at = await visit({ context });
    loseQueen(at);
    await at.open('#/nucs/n3');
    const next = at.page.getByRole('region', { name: 'Next' });
    await next.getByText('Give it another queen, or unite it').waitFor();
    expect(await next.innerText()).not.toMatch(/today|tomorrow|latest/);
    await at.end();
  });

  it('is not to be united with signs of brood disease in it', async () => {
    const at = await visit({ context });
    loseQueen(at);
    const { details } = at.fixture.farm;
    details.set('n3', { ...details.get('n3')!, diseaseSigns: true });
    await at.open('#/nucs/n3');
    await at.page.getByRole('region', { name: 'Next' }).getByText('Call the bee inspector first').waitFor();
    await at.open('#/today');
    const lost = at.page.getByRole('region', { name: 'Queen lost' });
    await lost.getByText('Call the bee inspector first').waitFor();
    expect(await at.page.getByText(/unite it/).count()).toBe(0);
    await at.end();
  });

  it('stands on Today with its button', async () => {
    const at = await visit({ context });
    await at.open('#/today');
    await at.page.getByRole('region', { name: 'Visits today' }).waitFor();
    expect(await at.page.getByRole('region', { name: 'Queen lost' }).count()).toBe(0);
    loseQueen(at);
    await at.open('#/today');
    const lost = at.page.getByRole('region', { name: 'Queen lost' });
    await lost.getByText('Give it another queen, or unite it').waitFor();
    await lost.getByRole('link', { name: /^Log/ }).tap();
    await at.page.getByRole('heading', { name: 'What did you do?' }).waitFor();
    await at.end();
  });
});

describe.skipIf(missing('Chromium', chromium))('a nuc whose queen came dead', () => {
  it('stands on Today too, though it waits for a queen as before', async () => {
    const at = await visit({ context });
    loseQueen(at);
    const { details } = at.fixture.farm;
    details.set('n3', { ...details.get('n3')!, stage: 'waiting-for-queen', queenLost: true });
    await at.open('#/today');
    const lost = at.page.getByRole('region', { name: 'Queen lost' });
    await lost.getByText('Give it another queen, or unite it').waitFor();
    await at.end();
  });
});

describe.skipIf(missing('Chromium', chromium))('a visit that is overdue', () => {
  it('is said to be so since its last day, on Today, among the nucs and on its page', async () => {
    const at = await visit({ context });
    const { farm } = at.fixture;
    const one = farm.details.get('n3')!;
    const { blockedBy: _none, ...step } = one.plan[0]!;
    const late = {
      ...step,
      id: 'n3-late',
      nucId: 'n3',
      kind: 'cut-cells',
      label: 'Cut the cells',
      state: 'overdue' as const,
      target: new Date(farm.nowMs()).toISOString(),
      latest: new Date(farm.nowMs() - 3 * 86_400_000).toISOString(),
    };
    farm.details.set('n3', { ...one, alerts: [], plan: [late], nextStep: late });
    await at.open('#/today');
    const visits = at.page.getByRole('region', { name: 'Visits today' });
    await visits
      .getByText(/overdue since/)
      .first()
      .waitFor();
    await at.open('#/nucs/n3');
    await at.page
      .getByRole('region', { name: 'Next', exact: true })
      .getByText(/^overdue since/)
      .waitFor();
    await at.open('#/nucs');
    await at.page
      .getByText(/^overdue since .*: Cut the cells$/)
      .first()
      .waitFor();
    await at.end();
  });
});

describe.skipIf(missing('Chromium', chromium))('a nuc that no queen is left for', () => {
  it('is not told on its page to hang a cage, and says that none is left', async () => {
    const at = await visit({ context });
    const one = at.fixture.farm.details.get('n3')!;
    const step = one.plan[0]!;
    const target = new Date(at.fixture.farm.nowMs()).toISOString();
    const due = (kind: string, label: string) => ({
      ...step,
      id: `n3-${kind}`,
      kind,
      label,
      target,
      latest: target,
      state: 'due' as const,
    });
    const plan = [due('cut-cells', 'Cut the cells'), due('hang-cage', 'Hang the cage')];
    at.fixture.farm.details.set('n3', { ...one, plan });
    await at.open('#/nucs/n3');
    await at.page.getByText(/No queen is left for it|no nuc: see the plan/).waitFor();
    const next = at.page.getByRole('region', { name: 'Next' });
    await expect.poll(() => next.innerText()).toMatch(/Cut the cells\s+today at the latest/);
    expect(await next.innerText()).not.toMatch(/hang the cage/i);
    await at.end();
  });

  it('is not told so while signs of brood disease keep every queen out', async () => {
    const at = await visit({ context });
    const one = at.fixture.farm.details.get('n3')!;
    await at.open('#/nucs/n3');
    await at.page.getByText(/No queen is left for it|no nuc: see the plan/).waitFor();
    at.fixture.farm.details.set('n3', { ...one, diseaseSigns: true });
    await at.open('#/today');
    await at.open('#/nucs/n3');
    await at.page.getByRole('region', { name: 'Next' }).waitFor();
    await expect
      .poll(() => at.page.getByText(/No queen is left for it|no nuc: see the plan/).count())
      .toBe(0);
    await at.end();
  });
});

describe.skipIf(missing('Chromium', chromium))('a nuc whose introduction has ended', () => {
  it('asks leave for nothing any more', async () => {
    const at = await visit({ context });
    const one = at.fixture.farm.details.get('n3')!;
    at.fixture.farm.details.set('n3', { ...one, setup: { ...one.setup!, ended: true } });
    await at.open('#/nucs/n3');
    await at.page.getByRole('heading', { name: 'What the sensors say' }).waitFor();
    expect(await at.page.getByText(/^May I/).count()).toBe(0);
    await at.end();
  });
});

describe.skipIf(missing('Chromium', chromium))('the list of nucs on a phone', () => {
  it('names every nuc in words before the first drawing', async () => {
    const at = await visit({ context });
    await at.open('#/nucs');
    await at.page.locator('.rails-standing').first().waitFor();
    const [list, drawing] = [at.page.locator('.nuc-list').last(), at.page.locator('.rails-standing').first()];
    const [above, below] = [(await list.boundingBox())!, (await drawing.boundingBox())!];
    expect(above.y + above.height).toBeLessThanOrEqual(below.y);
    await at.end();
  });
});
