/** Queens against nucs on the Plan page, by finger and by keys: who is first and why, a split moved, a late delivery. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { dateInWords } from '../../dashboard/format/when.ts';
import { chromium, missing } from '../support/programs.ts';
import type { Fixture } from './fixture-server.ts';
import { finger, keys, visit } from './visit.ts';

const addDays = (date: string, days: number): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

/** The last request that changes anything: dates that are only looked at may still be asked for after it. */
const kept = (changes: Fixture['changes']) => changes.filter(({ name }) => name !== 'previewBatch').at(-1);

describe.skipIf(missing('Chromium', chromium)).each([finger, keys])('$name', (hand) => {
  const { context } = hand;
  /** Keys move within a group of choices by the arrows, from the one that is chosen. */
  const ownDay = async (page: Page, sheet: Locator): Promise<void> => {
    if (hand !== keys) return hand.press(page, sheet.getByLabel('on a day of its own'));
    await hand.press(page, sheet.getByLabel('a week before the delivery'));
    await page.keyboard.press('ArrowDown');
  };

  /** The nucs of a delivery are folded away at first. */
  const unfold = (page: Page): Promise<void> =>
    hand.press(page, page.locator('summary').filter({ hasText: /nucs? in order/ }));

  it('sees which nuc gets the first queen and why, and who goes without', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/plan');
    const part = page.getByRole('region', { name: 'Which nuc gets which queen' });
    await unfold(page);
    const rows = part.locator('ol > li');
    await expect.poll(() => rows.count()).toBe(3);
    expect(await rows.nth(0).innerText()).toMatch(
      /1\. Bramble 1.*workers may lay in it first.*It can wait until/s,
    );
    expect(await rows.nth(1).innerText()).toMatch(/2\. Hazel 2.*not split yet.*moves with the delivery/s);
    expect(await rows.nth(2).innerText()).toMatch(/Alder 3.*goes without.*fewer queens than nucs/s);
    await part.getByText('1 nuc goes without').waitFor();
    await end();
  });

  it('moves a planned split to a day of its own and sees the dates before it is kept', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    await unfold(page);
    await hand.press(page, page.getByRole('button', { name: 'Move the split … Hazel 2' }));
    const sheet = page.getByRole('dialog');
    await ownDay(page, sheet);
    const { expected } = fixture.farm.arrivals.find((one) => one.id === 'a2')!;
    const day = addDays(expected, -5);
    await sheet.getByLabel('Split on').fill(day);
    await sheet
      .getByRole('listitem')
      .filter({ hasText: `${dateInWords(addDays(day, 7))} Cut the cells` })
      .waitFor();
    await hand.press(page, sheet.getByRole('button', { name: 'Change it' }));
    await sheet.waitFor({ state: 'detached' });
    expect(kept(fixture.changes)).toEqual({ name: 'changeIntroduction', body: { plannedSplit: day } });
    await end();
  });

  it('is told why a day can’t be, and calls the split off instead', async () => {
    const { page, fixture, open, end } = await visit({ context, allow: /400/ });
    await open('#/plan');
    await unfold(page);
    await hand.press(page, page.getByRole('button', { name: 'Move the split … Hazel 2' }));
    const sheet = page.getByRole('dialog');
    await ownDay(page, sheet);
    await sheet.getByLabel('Split on').fill('2020-05-01');
    await hand.press(page, sheet.getByRole('button', { name: 'Change it' }));
    await sheet.getByText(/Hazel 2 can’t be planned for 2020-05-01: that day is over/).waitFor();
    // What follows from that day comes by itself, and moves what stands below it.
    await sheet.getByText('Too late for this.').waitFor();
    await hand.press(page, sheet.locator('summary').filter({ hasText: 'This split will not be made' }));
    await hand.write(page, sheet.getByLabel('Why, if you like'), 'parent swarmed');
    await hand.press(page, sheet.getByRole('button', { name: 'Call it off' }));
    await sheet.waitFor({ state: 'detached' });
    expect(kept(fixture.changes)).toEqual({
      name: 'changeIntroduction',
      body: { calledOff: true, reason: 'parent swarmed' },
    });
    await end();
  });

  it('sees what each split nuc can do while a delivery is moved later', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    await hand.press(page, page.getByRole('button', { name: 'Move or change … June delivery' }));
    const sheet = page.getByRole('dialog');
    await sheet.getByText('she comes in good time').waitFor();
    const { expected } = fixture.farm.arrivals.find((one) => one.id === 'a2')!;
    await sheet.getByLabel('Expected on').fill(addDays(expected, 9));
    await sheet.getByText(/Give open brood \(first choice\)/).waitFor();
    expect(await sheet.locator('.choices').innerText()).toMatch(/Wait \(not in time\)/);
    expect(fixture.changes.filter(({ name }) => name !== 'previewBatch')).toEqual([]);
    await end();
  });

  it('is led from the step that lifts the mesh to the form that lets the queen out', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const one = fixture.farm.details.get('n3')!;
    const step = { ...one.plan[0]!, kind: 'open-candy', label: 'Lift the mesh', logAs: 'cage-taken-out' };
    fixture.farm.details.set('n3', { ...one, nextStep: { ...step, state: 'due' }, plan: [] });
    await open('#/log?nuc=n3');
    await page.getByRole('heading', { name: 'Cage or mesh taken out' }).waitFor();
    await hand.press(page, page.getByRole('radio', { name: 'walks on the comb' }));
    await hand.press(page, page.getByRole('button', { name: 'Keep it' }));
    await page.getByText('Sent, and stored by the server.').waitFor();
    expect(fixture.changes.at(-1)?.body).toMatchObject({
      entries: [{ fact: { kind: 'cage-taken-out', queen: 'left-in-nuc' } }],
    });
    await end();
  });

  it('prints the work sheet alone: a trip to a site and day, what to bring, a line to fill in for each nuc', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const practice = [{ text: 'Shake, don’t brush.', source: 'common practice' }];
    for (const [id, one] of fixture.farm.details) {
      const plan = one.plan.map((step) => ({
        ...step,
        ...(step.kind === 'cut-cells' ? { logAs: 'cells-cut', goodToKnow: practice } : {}),
      }));
      fixture.farm.details.set(id, { ...one, plan });
    }
    await open('#/plan');
    const sheet = page.getByRole('region', { name: 'Work by day and site' });
    await sheet.getByText(/^Print/).waitFor();
    const line = sheet.getByText(/open ____ {2}sealed ____.*every frame ☐/).first();
    const said = sheet.getByText('Shake, don’t brush.').first();
    expect([await line.isVisible(), await said.isVisible()]).toEqual([false, false]);
    await page.emulateMedia({ media: 'print' });
    expect([await line.isVisible(), await said.isVisible()]).toEqual([true, true]);
    for (const name of ['Queens', 'Nucs', 'Which nuc gets which queen', 'Plan a batch', 'In your calendar'])
      expect(await page.getByRole('region', { name, exact: true }).count(), name).toBe(0);
    expect(await page.getByRole('button').count()).toBe(0);
    const trips = await sheet.locator('.sheet-days > li > h3').allInnerTexts();
    expect(trips.length).toBeGreaterThan(3);
    expect(new Set(trips).size, 'one trip to a site a day').toBe(trips.length);
    expect(await sheet.getByText(/^Bring /).count()).toBe(trips.length);
    await end();
  });

  it('says on the work sheet what may not be done yet, and why', async () => {
    const { page, fixture, open, end } = await visit({ context });
    for (const [id, one] of fixture.farm.details) {
      const plan = one.plan.map((step) =>
        step.kind === 'hang-cage' ? { ...step, blockedBy: 'Signs of brood disease' } : step,
      );
      fixture.farm.details.set(id, { ...one, plan });
    }
    await open('#/plan');
    const sheet = page.getByRole('region', { name: 'Work by day and site' });
    await sheet.getByText('(not yet: Signs of brood disease)').first().waitFor();
    await end();
  });

  it('reads on the nuc’s page that its queen is late, and what can be done', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const one = fixture.farm.details.get('n3')!;
    const today = new Date(fixture.farm.nowMs()).toISOString().slice(0, 10);
    fixture.farm.details.set('n3', {
      ...one,
      waiting: {
        comesOn: addDays(today, 9),
        waitsUntil: addDays(today, 13),
        late: true,
        choices: [{ kind: 'wait', fits: true, on: addDays(today, 9), text: 'It can wait for her.' }],
      },
    });
    await open('#/nucs/n3');
    const plan = page.getByRole('region', { name: 'Plan and dates' });
    await hand.press(page, plan.locator('summary').first());
    await plan.getByText(`Its queen comes late, ${dateInWords(addDays(today, 9))}.`).waitFor();
    await plan.getByText(/Wait \(first choice\).*It can wait for her/).waitFor();
    await end();
  });

  it('plans one nuc without a batch', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    await hand.press(page, page.locator('summary').filter({ hasText: 'Plan one nuc' }));
    const part = page.getByRole('region', { name: 'Plan one nuc' });
    await hand.write(page, part.getByLabel('Name of the nuc'), 'Rowan');
    await part.getByText('Make the split').waitFor();
    await hand.press(page, part.getByRole('button', { name: 'Plan this nuc' }));
    await part.getByText('Planned.').waitFor();
    const [hive, introduction] = fixture.changes.filter(({ name }) => name !== 'previewBatch');
    expect(hive).toMatchObject({ name: 'addHive', body: { name: 'Rowan', siteId: 's1', role: 'nuc' } });
    expect(introduction).toMatchObject({
      name: 'openIntroduction',
      body: { startingPoint: 'planned-split', plannedSplit: expect.any(String) as unknown },
    });
    await end();
  });

  it('takes a batch back as one', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    await hand.press(page, page.locator('summary').filter({ hasText: 'Plan a batch' }));
    await hand.press(page, page.getByRole('button', { name: 'Plan 6 nucs' }));
    await page.getByText('6 nucs planned.').waitFor();
    await hand.press(page, page.getByRole('button', { name: 'Undo' }));
    await page.getByRole('button', { name: 'Plan 6 nucs' }).waitFor();
    const undone = fixture.changes.find(({ name }) => name === 'undoBatch')?.body as { nucIds: string[] };
    expect(undone.nucIds).toHaveLength(6);
    await end();
  });

  it('shows what a moved delivery moves, with the days that are left', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    await hand.press(page, page.getByRole('button', { name: 'Move or change … June delivery' }));
    const sheet = page.getByRole('dialog');
    const { expected } = fixture.farm.arrivals.find((one) => one.id === 'a2')!;
    await sheet.getByText('Nucs that are not split yet would follow').waitFor();
    await sheet.getByLabel('Expected on').fill(addDays(expected, 3));
    await sheet
      .getByRole('listitem')
      .filter({ hasText: `Make the split was ${dateInWords(addDays(expected, -7))}` })
      .waitFor();
    expect(fixture.changes.filter(({ name }) => name !== 'previewBatch')).toEqual([]);
    await end();
  });

  it('enters nucs that are under way, several at once, with what was seen and when', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/takeover');
    for (let i = 0; i < 3; i += 1)
      await hand.press(page, page.getByRole('button', { name: 'one step more: New nucs' }));
    const began = fixture.farm.nowMs() - 9 * 86_400_000;
    await page.getByLabel('Day', { exact: true }).fill(new Date(began).toISOString().slice(0, 10));
    const split = page.getByRole('region', { name: 'Split made' });
    await split.getByText('seen in the parent').click();
    await split.getByText('none', { exact: true }).click();
    for (const what of ['bees', 'sealed brood', 'open brood', 'stores'])
      await split.getByRole('button', { name: `one step more: Frames of ${what}` }).click();
    await hand.press(page, page.locator('summary').filter({ hasText: 'Add what was done or seen' }));
    await hand.press(page, page.getByRole('button', { name: 'Fed', exact: true }));
    await page.getByText('syrup').click();
    await hand.press(page, page.getByRole('button', { name: /^Enter \d nucs/ }));
    await page.getByText(/nucs entered/).waitFor();
    await expect.poll(() => fixture.changes.some(({ name }) => name === 'postLog')).toBe(true);
    const opened = fixture.changes.filter(({ name }) => name === 'openIntroduction');
    const hives = fixture.changes.filter(({ name }) => name === 'addHive');
    expect([hives.length, opened.length]).toEqual([hives.length, hives.length]);
    expect(hives.length).toBeGreaterThanOrEqual(3);
    const day = new Date(began).toISOString().slice(0, 10);
    for (const { body } of opened)
      expect(body).toMatchObject({ openedAt: expect.stringContaining(day) as unknown });
    const { entries } = fixture.changes.find(({ name }) => name === 'postLog')!.body as {
      entries: { fact: { kind: string } }[];
    };
    expect(entries.slice(0, hives.length).every(({ fact }) => fact.kind === 'split-made')).toBe(true);
    expect(entries).toHaveLength(2 * hives.length);
    await end();
  });
});
