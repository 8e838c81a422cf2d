/** What a keeper comes to do, by finger on a phone and by keys alone on a laptop. */
import { describe, expect, it } from 'vitest';
import { dateInWords } from '../../dashboard/format/when.ts';
import { chromium, missing } from '../support/programs.ts';
import { alertFor } from './invented/alerts.ts';
import { finger, keys, visit } from './visit.ts';

describe.skipIf(missing('Chromium', chromium)).each([finger, keys])('$name', (hand) => {
  const { context } = hand;

  it('plans a batch of six for one delivery', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    const batch = page.getByRole('region', { name: 'Plan a batch' });
    await hand.press(page, batch.locator('summary'));
    await expect.poll(() => batch.getByLabel('For', { exact: true }).inputValue()).toBe('a2');
    expect(await batch.getByRole('textbox', { name: 'How many nucs', exact: true }).inputValue()).toBe('6');
    await hand.write(page, batch.getByLabel('Nucs are called'), 'Elm');
    await batch.getByText('Make the split').waitFor();
    await hand.press(page, batch.getByRole('button', { name: 'Plan 6 nucs' }));
    await page.getByText('6 nucs planned.').waitFor();
    expect(fixture.changes.filter((change) => change.name === 'createBatch')).toMatchObject([
      { body: { nucs: 6, arrivalId: 'a2', by: 'arrival', namePrefix: 'Elm', siteId: 's1' } },
    ]);
    await end();
  });

  it('runs the rules again over past days, and sees which sensor was silent', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/review');
    const replay = page.getByRole('region', { name: 'Replay' });
    await hand.press(page, page.locator('summary').filter({ hasText: 'Replay' }));
    await hand.press(page, replay.getByRole('button', { name: 'Run it' }));
    const found = replay.getByRole('listitem');
    await found.first().waitFor();
    expect(await found.allInnerTexts()).toEqual([
      expect.stringMatching(/^Brood chilling, (?!Nuc)/),
      expect.stringMatching(/^Sensor silent, box-1 at Nuc 1, .* Was raised as well\.$/),
    ]);
    // Of another nuc it is no answer.
    await replay.getByLabel('Nuc').selectOption({ index: 1 });
    await expect.poll(() => found.count()).toBe(0);
    await end();
  });

  it('moves a delivery, sees what follows, and keeps it', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/plan');
    await hand.press(page, page.getByRole('button', { name: 'Move or change … June delivery' }));
    const sheet = page.getByRole('dialog');
    await sheet.getByText('Nucs that are not split yet would follow').waitFor();
    const { expected } = fixture.farm.arrivals.find((one) => one.id === 'a2')!;
    const later = new Date(Date.parse(expected) + 3 * 86_400_000).toISOString().slice(0, 10);
    const split = new Date(Date.parse(later) - 7 * 86_400_000).toISOString().slice(0, 10);
    await sheet.getByLabel('Expected on').fill(later);
    await sheet
      .getByRole('listitem')
      .filter({ hasText: `${dateInWords(split)} Make the split` })
      .waitFor();
    await hand.press(page, sheet.getByRole('button', { name: 'Change it; plans follow' }));
    await sheet.waitFor({ state: 'detached' });
    // What would follow may be asked for once more after that.
    expect(fixture.changes.filter(({ name }) => name === 'changeArrival')).toMatchObject([
      { body: { expected: later } },
    ]);
    await end();
  });

  it('logs a cut with cells found while the server is out of reach, and sends it when it is back', async () => {
    const { page, fixture, open, end } = await visit({
      context,
      allow: /Failed to load resource|EventSource|ERR_/,
    });
    await page.clock.install();
    await open('#/log?nuc=n3');
    const cut = page.getByRole('region', { name: 'Cells cut' });
    await cut.getByText('Bees shaken off?').waitFor();
    await hand.press(page, page.getByRole('button', { name: /^Remove.*Cage hung/ }));
    await fixture.down();
    await hand.press(page, page.getByRole('button', { name: 'one step more: Open cells' }));
    await hand.press(page, page.getByRole('button', { name: 'one step more: Sealed cells' }));
    await hand.press(page, page.getByRole('button', { name: 'Keep it' }));
    await page.getByText('Kept on this device, not sent yet').waitFor();
    await page.getByText('1 entry not sent yet').waitFor();
    // The page also sends by itself, as soon as it hears the server again or a quarter of a minute has gone by, and then
    // the button goes away. So nothing gets through until the button is reached, and no timer runs from then on.
    await page.route('**/api/v1/**', (route) => route.abort());
    // The minute that is skipped tries once more: let through half way, that try would reach the server and yet count as failed.
    const refused = page.waitForEvent('requestfailed', (request) => request.method() === 'POST');
    await page.clock.pauseAt((await page.evaluate<number>('Date.now()')) + 60_000);
    await refused;
    await fixture.up();
    await hand.press(page, page.getByRole('button', { name: 'Try now' }), () => page.unroute('**/api/v1/**'));
    await page.getByText('Sent, and stored by the server.').waitFor();
    await expect.poll(() => page.getByText('not sent yet').count()).toBe(0);
    expect([...fixture.farm.logged.values()]).toEqual([1]);
    expect(fixture.changes.at(-1)?.body).toMatchObject({
      entries: [{ introductionId: 'intro-n3', fact: { kind: 'cells-cut', cells: { open: 1, sealed: 1 } } }],
    });
    await end();
  });

  it('assigns a new sensor', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/sensors');
    await hand.press(page, page.getByRole('button', { name: 'Assign … probe-new, temperature' }));
    const sheet = page.getByRole('dialog');
    await sheet.getByText('Where does probe-new, temperature stand?').waitFor();
    const put = sheet.getByRole('button', { name: 'It stands there' });
    expect(await put.isDisabled()).toBe(true);
    await hand.choose(page, sheet.getByLabel('Nuc or parent colony'), 'Hazel 2, Lower Orchard');
    // A probe outside that passes for one in the brood would raise alerts of cold: nobody said yet where it is.
    expect(await put.isDisabled()).toBe(true);
    await hand.press(page, sheet.getByRole('radio', { name: 'brood frame' }));
    await hand.press(page, put);
    await sheet.waitFor({ state: 'detached' });
    await expect
      .poll(() => page.getByRole('button', { name: 'Assign … probe-new, temperature' }).count())
      .toBe(0);
    expect(fixture.changes.at(-1)).toMatchObject({ name: 'assign', body: { place: 'brood', hiveId: 'n2' } });
    await end();
  });

  it('forgets a sensor that was tried out, after a question', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/sensors');
    const row = page.getByRole('button', { name: 'Forget … probe-new, temperature' });
    await hand.press(page, row);
    const sheet = page.getByRole('dialog');
    await sheet.getByText('Forget probe-new, temperature?').waitFor();
    await sheet.getByText(/It goes for good, with [\d,]+ readings? and any calibration/).waitFor();
    expect(fixture.changes).toEqual([]);
    await hand.press(page, sheet.getByRole('button', { name: 'Forget it' }));
    await sheet.waitFor({ state: 'detached' });
    await expect.poll(() => row.count()).toBe(0);
    expect(fixture.changes.at(-1)).toMatchObject({
      name: 'forgetChannels',
      body: { ids: [expect.any(Number)] },
    });
    await end();
  });

  it('sees an alert arrive, reads why, and marks it as seen', async () => {
    const { page, fixture, open, emit, end } = await visit({ context, farm: { nucs: 4 } });
    await open('#/today');
    fixture.farm.alerts = [
      alertFor(fixture.farm.cases[2]!, fixture.farm.nowMs(), { seen: 'Brood at 30.9 °C.' }),
    ];
    await emit({
      type: 'alert',
      id: 'alert-n3',
      phase: 'raised',
      urgency: 'now',
      headline: 'Keep it warm',
    });
    const alert = page.getByRole('article', { name: /^Keep Alder 3 warm/ });
    await alert.waitFor();
    await hand.press(page, alert.locator('summary').filter({ hasText: 'Why' }));
    await alert.getByText('Rests on').waitFor();
    const told = await alert.innerText();
    const order = ['Keep Alder 3 warm', 'Brood at 30.9 °C.', 'by ', 'Day 9:', 'Rests on'].map((words) =>
      told.indexOf(words),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order.every((at) => at >= 0)).toBe(true);
    await hand.press(page, alert.getByRole('button', { name: /^Seen/ }));
    await alert.getByText(/Seen by Maren/).waitFor();
    expect(fixture.changes.at(-1)).toMatchObject({ name: 'actOnAlert', body: { action: 'seen' } });
    await end();
  });

  it('finds the evening’s warning within the chilling that came of it', async () => {
    const { page, fixture, open, end } = await visit({ context, farm: { nucs: 4 } });
    const one = fixture.farm.cases[2]!;
    const chilling = alertFor(one, fixture.farm.nowMs());
    const todo = 'Before the evening: insulate it.';
    const more = { id: 'tonight-n3', ruleId: 'chilling-tonight', urgency: 'today', todo } as const;
    fixture.farm.alerts = [
      chilling,
      alertFor(one, fixture.farm.nowMs(), { ...more, explainedBy: chilling.id }),
    ];
    for (const path of ['#/today', '#/nucs/n3']) {
      await open(path);
      await page.getByRole('article', { name: /^Keep Alder 3 warm/ }).waitFor();
      expect(await page.locator('article.alert').count()).toBe(1);
      await hand.press(page, page.locator('article.alert .why > summary').first());
      await hand.press(page, page.locator('.alert-parts summary').first());
      await page.locator('.alert-parts').getByText('Rests on').first().waitFor();
    }
    await end();
  });

  it('has a word of the trade explained with its source, and goes back to where it was', async () => {
    const { page, open, end } = await visit({ context: hand.context });
    await open('#/today');
    await hand.press(page, page.locator('article.alert .why > summary').first());
    const word = page.getByRole('button', { name: 'sealed brood' });
    await hand.press(page, word);
    const sheet = page.getByRole('dialog', { name: 'sealed brood' });
    await sheet.getByText(/kept at 33 to 36 °C/).waitFor();
    await sheet.getByText(/Source: .*Becher et al. 2009/).waitFor();
    await hand.press(page, sheet.getByRole('button', { name: 'Close' }));
    await sheet.waitFor({ state: 'detached' });
    expect(await word.evaluate((one) => one.ownerDocument.activeElement === one)).toBe(true);
    // On the page of a nuc: what its sensors say, and the list of all words.
    await open('#/nucs/n1');
    await hand.press(page, page.locator('summary').filter({ hasText: 'Foragers' }));
    await hand.press(page, page.getByRole('button', { name: 'drift' }));
    await page.getByRole('dialog').getByText('Source: common practice.').waitFor();
    await page.keyboard.press('Escape');
    await open('#/settings');
    await hand.press(page, page.locator('summary').filter({ hasText: 'Words of the trade' }));
    await page.getByText('Several eggs', { exact: false }).first().waitFor({ state: 'attached' });
    await end();
  });

  it('finds out whether the candy end may be opened, with reasons and their sources', async () => {
    // In the forenoon: late in the evening "27 hours from now" is not tomorrow any more.
    const forenoon = new Date().setUTCHours(8, 0, 0, 0);
    const { page, open, end } = await visit({ context, farm: { nowMs: forenoon } });
    await open('#/nucs');
    await hand.press(page, page.locator('.nuc-list, .rail-row').getByRole('link', { name: /Bramble 1/ }));
    const gates = page.getByRole('region', { name: 'May I?' });
    const candy = gates.locator('summary').filter({ hasText: 'May I open the candy end?' });
    await candy.getByText(/wait until tomorrow/).waitFor();
    await hand.press(page, candy);
    await gates.getByText('The chance that a cell still stands is 11 %.').waitFor();
    await gates
      .locator('details[open]')
      .getByText(/Source: .*Mussen/)
      .first()
      .waitFor();
    await hand.press(page, gates.locator('summary').filter({ hasText: 'May I look for the queen?' }));
    await gates.getByText('A week has gone by since the candy end was opened.').waitFor();
    await end();
  });

  it('reviews a batch on its own band', async () => {
    const { page, open, end } = await visit({ context });
    await open('#/review');
    const batch = page.getByRole('region', { name: 'A batch' });
    await batch.getByText('5 nucs; one lies below the band since day 13.').waitFor();
    await hand.press(page, batch.locator('summary').filter({ hasText: 'As a table' }));
    await batch.getByRole('columnheader', { name: 'Hazel 2' }).waitFor();
    await page.getByRole('region', { name: 'Outcomes', exact: true }).getByText('Line M').waitFor();
    await end();
  });

  it('takes a nuc whose introduction is over off the lists, and puts it back', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const one = fixture.farm.details.get('n1')!;
    fixture.farm.details.set('n1', { ...one, setup: { ...one.setup!, ended: true } });
    await open('#/nucs/n1');
    await hand.press(page, page.locator('summary').filter({ hasText: 'About this introduction' }));
    await hand.press(page, page.getByRole('button', { name: 'Take it off the lists' }));
    await page.getByText('Off the lists; its records stay in Review.').waitFor();
    expect(fixture.changes.at(-1)).toEqual({ name: 'changeHive', body: { retired: true } });
    await hand.press(page, page.getByRole('button', { name: 'Put it back on the lists' }));
    await page.getByRole('button', { name: 'Take it off the lists' }).waitFor();
    expect(fixture.changes.at(-1)).toEqual({ name: 'changeHive', body: { retired: false } });
    await end();
  });

  it('gives an unknown message its meaning and sees what comes of it before saving', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/sensors');
    await hand.press(page, page.getByRole('button', { name: 'Say what it means …' }));
    const sheet = page.getByRole('dialog');
    await sheet.getByText('33.8 °C').waitFor();
    await sheet.getByText('11.87 kg').waitFor();
    await hand.press(page, sheet.getByRole('button', { name: 'Save the mapping' }));
    await sheet.waitFor({ state: 'detached' });
    await page.getByText('Every message was understood.').waitFor();
    expect(fixture.changes.at(-1)).toMatchObject({
      name: 'putMapping',
      body: { mapping: { topic: 'shed/+sensor/state' } },
    });
    await end();
  });
});
