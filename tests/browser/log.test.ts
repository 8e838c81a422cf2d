/** A visit written down at the stand: what is not answered, several nucs at once and how many taps, taken back, answers from before it. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { instantAt, localTime } from '../../dashboard/format/calendar.ts';
import type { LogEntry } from '../../server/introduction/log/facts.ts';
import { chromium, missing } from '../support/programs.ts';
import type { Fixture } from './fixture-server.ts';
import type { Visit } from './visit.ts';
import { finger, phone, visit } from './visit.ts';

const context = { viewport: phone, hasTouch: true, isMobile: true };

type Fact = Extract<LogEntry, { type: 'fact' }>['fact'];

/** Every fact and correction that was sent, in its order. */
const sent = (changes: Fixture['changes']): readonly LogEntry[] =>
  changes.flatMap(({ name, body }) =>
    name === 'postLog' ? (body as { readonly entries: readonly LogEntry[] }).entries : [],
  );
const factsSent = (changes: Fixture['changes']): readonly Fact[] =>
  sent(changes).flatMap((entry) => (entry.type === 'fact' ? [entry.fact] : []));

/** Counts what a finger does; nothing is typed. */
function tapper(page: Page) {
  let taps = 0;
  return {
    async tap(target: Locator): Promise<void> {
      taps += 1;
      await finger.press(page, target);
    },
    taps: () => taps,
  };
}

/** Eight nucs of a site, all with the same steps due now. */
function sameDue({ fixture: { farm } }: Visit, kinds: readonly (readonly [string, string, string])[]): void {
  for (const [id, one] of farm.details) {
    const [step] = one.plan;
    if (!step) continue;
    const target = new Date(farm.nowMs()).toISOString();
    const plan = kinds.map(([kind, label, logAs]) => ({
      ...step,
      id: `${id}-${kind}`,
      nucId: id,
      kind,
      label,
      logAs,
      target,
      state: 'due' as const,
      siteId: 's1',
      siteName: 'Lower Orchard',
    }));
    farm.details.set(id, {
      ...one,
      hive: { ...one.hive, name: `Nuc ${id.slice(1)}`, siteId: 's1' },
      siteName: 'Lower Orchard',
      gates: [],
      candyGate: null,
      plan,
      nextStep: plan[0] ?? null,
    });
  }
}

const written = (page: Page): Promise<void> => page.getByText('Sent, and stored by the server.').waitFor();

describe.skipIf(missing('Chromium', chromium))('the log', () => {
  it('asks where the eggs stand once eggs were seen, also where that is asked further up', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/log?nuc=n3&kind=inspection');
    await page.locator('.more-fields > summary').tap();
    const stand = page.getByRole('group', { name: 'The eggs stand' });
    expect(await stand.count()).toBe(0);
    await page.getByText('eggs', { exact: true }).tap();
    await stand.getByText('on the walls').tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(factsSent(fixture.changes)).toMatchObject([{ youngestBrood: 'eggs', eggsStand: 'walls' }]);
    await end();
  });

  it('takes a count back where its figure is wiped out', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/log?nuc=n3&kind=inspection');
    const bees = page.getByRole('group', { name: 'Frames of bees' });
    await bees.getByRole('button', { name: /more/ }).tap();
    await bees.getByRole('textbox').fill('');
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(factsSent(fixture.changes)[0]).not.toHaveProperty('framesOfBees');
    await end();
  });

  it('fills in nothing: a cut with nothing answered says that nobody looked', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/log?nuc=n3&kind=cells-cut');
    await page.locator('.more-fields > summary').tap();
    expect(await page.locator('main input:checked:not(.nuc-chips input)').count()).toBe(0);
    const typed = page.locator('main input:not([type=radio], [type=checkbox])');
    expect(
      await typed.evaluateAll((all) => all.map((one) => (one as unknown as { value: string }).value)),
    ).toEqual(['', '', '', '']);
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(factsSent(fixture.changes)).toMatchObject([
      { kind: 'cells-cut', everyFrameChecked: false, beesShakenOff: false, youngestBrood: 'not-looked' },
    ]);
    await end();
  });

  it.each(['cage-checked', 'looked-for-queen', 'split-made', 'candy-opened', 'cage-hung', 'outcome'])(
    '%s: asks for what it can’t do without before it keeps anything',
    async (kind) => {
      const { page, fixture, open, end } = await visit({ context });
      await open(`#/log?nuc=n3&kind=${kind}`);
      expect(await page.locator('main input:checked:not(.nuc-chips input)').count()).toBe(0);
      await page.getByRole('button', { name: 'Keep it' }).tap();
      await page
        .getByRole('alert')
        .getByText(/^(Say|Count) /)
        .waitFor();
      expect(fixture.changes).toEqual([]);
      await end();
    },
  );

  it('takes a whole look only with its cells counted', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/log?nuc=n3&kind=cells-cut');
    for (const question of ['Every frame checked?', 'Bees shaken off?'])
      await page.getByRole('group', { name: question }).getByRole('radio', { name: 'yes' }).tap();
    await page.getByRole('button', { name: 'one step more: Open cells' }).tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await page
      .getByRole('alert')
      .getByText(/count each kind of cell/)
      .waitFor();
    await page.getByRole('button', { name: 'No others' }).tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(factsSent(fixture.changes)).toMatchObject([
      { everyFrameChecked: true, cells: { open: 1, sealed: 0, emerged: 0, tornDown: 0 } },
    ]);
    await end();
  });

  it('splits eight nucs in at most 12 taps, nothing typed', async () => {
    const one = await visit({ context });
    const { page, fixture, open, end } = one;
    sameDue(one, [['split', 'Make the split', 'split-made']]);
    await open('#/log');
    const { tap, taps } = tapper(page);
    await tap(page.getByRole('link', { name: /^Split made/ }));
    await tap(page.getByRole('radio', { name: 'seen in the parent' }));
    await tap(page.getByRole('radio', { name: 'none' }));
    for (const what of ['bees', 'sealed brood', 'open brood', 'stores'])
      await tap(page.getByRole('button', { name: `one step more: Frames of ${what}` }));
    await tap(page.getByRole('button', { name: 'Keep for 8 nucs' }));
    await written(page);
    expect(taps()).toBeLessThanOrEqual(12);
    const facts = factsSent(fixture.changes);
    expect(facts).toHaveLength(8);
    expect(facts[0]).toEqual({
      kind: 'split-made',
      oldQueen: 'seen-in-parent',
      cellsAlreadyThere: 'none',
      framesOfBees: 3,
      framesOfSealedBrood: 1,
      framesOfOpenBrood: 1,
      framesOfStores: 1,
    });
    console.log(`eight nucs split: ${String(taps())} taps`);
    await end();
  });

  it('cuts and hangs eight nucs in at most 4 taps a nuc, each with its own cells and its named queen', async () => {
    const one = await visit({ context });
    const { page, fixture, open, end } = one;
    sameDue(one, [
      ['cut-cells', 'Cut the cells', 'cells-cut'],
      ['hang-cage', 'Hang the cage', 'cage-hung'],
    ]);
    await open('#/log');
    const { tap, taps } = tapper(page);
    await tap(page.getByRole('link', { name: /^Cells cut, cage hung/ }));
    for (const question of ['Every frame checked?', 'Bees shaken off?'])
      await tap(page.getByRole('group', { name: question }).getByRole('radio', { name: 'yes' }));
    for (let n = 1; n <= 8; n += 1) {
      const cells = page.getByRole('group', { name: `Cells in Nuc ${String(n)}` });
      for (const kind of ['open', 'open', 'sealed'])
        await tap(cells.getByRole('button', { name: new RegExp(`one more ${kind} cell`) }));
    }
    await tap(page.getByRole('button', { name: 'No others' }));
    await tap(page.getByRole('radio', { name: 'closed, tape on' }));
    await tap(page.getByRole('button', { name: 'Keep for 8 nucs' }));
    await written(page);
    expect(taps()).toBeLessThanOrEqual(4 * 8);
    const facts = factsSent(fixture.changes);
    expect(facts).toHaveLength(16);
    expect(facts[0]).toMatchObject({ kind: 'cells-cut', cells: { open: 2, sealed: 1, emerged: 0 } });
    expect(facts[1]).toMatchObject({ kind: 'cage-hung', queenId: 'M-n1', candyEnd: 'closed' });
    const instants = new Set(sent(fixture.changes).map(({ happenedAtMs }) => happenedAtMs));
    expect(instants.size, 'one visit').toBe(1);
    console.log(`eight nucs cut and hung: ${String(taps())} taps`);
    await end();
  });

  it('says that it waits where answers are late and nothing is remembered, and then asks what is due', async () => {
    const { page, fixture, end } = await visit({ context });
    await page.clock.install();
    let letThrough: () => void = () => undefined;
    const mayPass = new Promise<void>((resolve) => {
      letThrough = resolve;
    });
    await page.route(/\/api\/v1\/(nucs|plan)\?/, async (route) => {
      await mayPass;
      await route.continue();
    });
    await page.goto(`${fixture.url}#/log?nuc=n3`);
    await page.getByText('Fetching the nucs').waitFor();
    await page.clock.runFor(10_000);
    expect(await page.getByText('Fetching the nucs').count()).toBe(1);
    letThrough();
    await page.getByRole('region', { name: 'Cells cut' }).getByText('Bees shaken off?').waitFor();
    await end();
  });

  it('shows nucs in the order in which people count', async () => {
    const one = await visit({ context, farm: { nucs: 12 } });
    sameDue(one, []);
    await one.open('#/log');
    await one.page.locator('.nuc-names a').first().waitFor();
    const names = await one.page.locator('.nuc-names a').allInnerTexts();
    expect(names).toEqual(Array.from({ length: 12 }, (_, i) => `Nuc ${String(i + 1)}`));
    await one.end();
  });

  it('takes a visit back with one tap: stored entries are withdrawn, unsent ones never sent', async () => {
    const {
      page,
      context: device,
      fixture,
      open,
      end,
    } = await visit({
      context,
      allow: /Failed to load resource|EventSource|ERR_|net::/,
    });
    await open('#/log?nucs=n3,n4&kinds=fed');
    await page.getByRole('radio', { name: 'syrup' }).tap();
    await page.getByRole('button', { name: 'Keep for 2 nucs' }).tap();
    await written(page);
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.getByText('Taken back.').waitFor();
    await expect.poll(() => sent(fixture.changes).length).toBe(4);
    const [a, b, ...corrections] = sent(fixture.changes);
    expect(corrections).toMatchObject([
      { type: 'correction', corrects: b?.id },
      { type: 'correction', corrects: a?.id },
    ]);
    expect(corrections.some((entry) => 'replacement' in entry)).toBe(false);
    await device.setOffline(true);
    await page.evaluate("location.hash = '#/log?nuc=n3&kind=fed'");
    await page.getByRole('radio', { name: 'syrup' }).tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await page.getByText('Kept on this device, not sent yet').waitFor();
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.getByText('Taken back.').waitFor();
    await expect.poll(() => page.getByText('not sent yet').count()).toBe(0);
    await device.setOffline(false);
    expect(sent(fixture.changes)).toHaveLength(4);
    await end();
  });

  it('never shows a gate as go once biting was written down, however slow the server is', async () => {
    const { page, fixture, open, emit, end } = await visit({ context });
    const one = fixture.farm.details.get('n2')!;
    const go = one.gates.find(({ gate }) => gate === 'open-candy')!;
    expect(go.answer).toBe('go');
    // Opened once, so that it is known; then the bees bite, and every answer takes its time.
    await open('#/nucs/n2');
    await page.evaluate("location.hash = '#/log?nuc=n2&kind=cage-checked'");
    await page.getByRole('radio', { name: 'biting, clinging' }).tap();
    await page.getByRole('group', { name: 'Queen alive?' }).getByRole('radio', { name: 'yes' }).tap();
    let letThrough: () => void = () => undefined;
    const mayPass = new Promise<void>((resolve) => {
      letThrough = resolve;
    });
    const answered: string[] = [];
    await page.route('**/api/v1/**', async (route) => {
      const answer = await route.fetch();
      answered.push(new URL(route.request().url()).pathname);
      // What the server knew when it was asked, once the nuc's page is looked at again.
      await mayPass;
      await route.fulfill({ response: answer }).catch(() => undefined);
    });
    // An answer from before the entry is on its way while it is written.
    await emit({ type: 'nuc', id: 'n2' });
    await expect.poll(() => answered).toContain('/api/v1/nucs');
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await page.getByText('Written down.').waitFor();
    const stop = { ...go, answer: 'stop' as const, headline: 'The bees bite.' };
    fixture.farm.details.set('n2', {
      ...fixture.farm.details.get('n2')!,
      gates: one.gates.map((gate) => (gate === go ? stop : gate)),
      candyGate: { answer: 'stop', headline: stop.headline },
      nextStep: null,
    });
    await page.evaluate("location.hash = '#/nucs/n2'");
    const shown: string[] = [];
    const look = async (): Promise<string> => {
      shown.push((await page.locator('main').textContent()) ?? '');
      return shown.at(-1) ?? '';
    };
    await expect.poll(look).toContain('Newest readings');
    letThrough();
    await expect.poll(look, { interval: 50 }).toContain(`${go.question} stop`);
    expect(shown.filter((text) => text.includes(`${go.question} go`))).toEqual([]);
    await page.unroute('**/api/v1/**');
    await end();
  });

  it('says in sight what is missing, also at the top of a long form', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/log?nuc=n3&kinds=cells-cut,cage-hung');
    const keep = page.getByRole('button', { name: 'Keep it' });
    await page.evaluate('scrollTo(0, 0)');
    // Where a thumb finds it: at the foot of the screen, without scrolling to it.
    const at = (await keep.boundingBox())!;
    expect(at.y + at.height).toBeLessThan(phone.height);
    await page.touchscreen.tap(at.x + at.width / 2, at.y + at.height / 2);
    const words = page.getByRole('alert').getByText('Say whether the candy end is closed.');
    await words.waitFor();
    const box = (await words.boundingBox())!;
    expect(box.y).toBeGreaterThan(0);
    expect(box.y + box.height).toBeLessThanOrEqual((await keep.boundingBox())!.y);
    expect(fixture.changes).toEqual([]);
    await end();
  });

  it('writes the time of the site where the phone keeps another, in a log opened from a label', async () => {
    const { page, fixture, open, end } = await visit({
      context: { ...context, timezoneId: 'America/New_York' },
    });
    await open('#/log?nuc=n3&kind=fed');
    await page.getByRole('radio', { name: 'syrup' }).tap();
    await page.getByRole('button', { name: 'Earlier …' }).tap();
    const nowMs = fixture.farm.nowMs();
    await expect
      .poll(() => page.getByLabel('Time at the site').inputValue())
      .toMatch(new RegExp(`^${localTime(nowMs, 'Europe/Berlin').slice(0, 2)}`));
    await page.getByLabel('Day', { exact: true }).fill('2026-05-10');
    await page.getByLabel('Time at the site').fill('14:00');
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(sent(fixture.changes).map(({ happenedAtMs }) => happenedAtMs)).toEqual([
      instantAt('2026-05-10', '14:00', 'Europe/Berlin'),
    ]);
    await end();
  });

  it('leaves the instant of a corrected entry as it was, and gives no advice about doing it now', async () => {
    const { page, fixture, open, end } = await visit({
      context: { ...context, timezoneId: 'America/New_York' },
    });
    const one = fixture.farm.details.get('n2')!;
    const gates = one.gates.map((gate) => ({ ...gate, answer: 'stop' as const, headline: 'Cut already.' }));
    fixture.farm.details.set('n2', { ...one, gates });
    const { id, happenedAtMs } = one.log
      .map(({ entry }) => entry)
      .find((entry) => entry.type === 'fact' && entry.fact.kind === 'cells-cut')!;
    await open(`#/log?nuc=n2&corrects=${id}`);
    await page.getByText('Corrected: Cells cut').waitFor();
    expect(await page.getByText('Cut already.').count()).toBe(0);
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(sent(fixture.changes)).toMatchObject([
      { type: 'correction', corrects: id, replacementHappenedAtMs: happenedAtMs },
    ]);
    await end();
  });

  it('takes signs of brood disease, and says at once whom to call and what to leave', async () => {
    const { page, fixture, open, end } = await visit({ context });
    await open('#/log?nuc=n3&then=');
    await page.getByRole('button', { name: 'Signs of brood disease' }).tap();
    const caution = page.getByText(/Move no frames.*Call the bee inspector/);
    await caution.waitFor();
    expect(await caution.isVisible()).toBe(true);
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await page
      .getByRole('alert')
      .getByText(/^Say whether you saw signs/)
      .waitFor();
    await page.getByRole('radio', { name: 'signs seen' }).tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await written(page);
    expect(factsSent(fixture.changes)).toEqual([{ kind: 'brood-disease', found: 'signs' }]);
    await end();
  });

  it('logs a visit to a parent colony, and takes it back', async () => {
    const { page, fixture, open, end } = await visit({ context });
    const { farm } = fixture;
    farm.hives.push({ ...farm.hives[0]!, id: 'stock', role: 'parent', name: 'Stock 1' });
    await open('#/log');
    await page.locator('summary').filter({ hasText: 'Other hives' }).tap();
    await page.getByRole('link', { name: 'Stock 1' }).tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await page.getByRole('alert').getByText('Say what was done.').waitFor();
    await page.getByText('frames taken out').tap();
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await expect.poll(() => fixture.changes.map(({ name }) => name)).toEqual(['logHiveVisit']);
    expect(fixture.changes[0]).toMatchObject({ body: { kind: 'frames-taken' } });
    const last = page.getByRole('region', { name: 'Last visits' });
    await last.getByText('frames taken out').first().waitFor();
    await last.getByRole('button', { name: /^Undo/ }).tap();
    await expect.poll(() => last.count()).toBe(0);
    await end();
  });

  it('takes back an answer at once when another device logs something', async () => {
    const { page, fixture, open, emit, end } = await visit({ context });
    await open('#/nucs/n2');
    const one = fixture.farm.details.get('n2')!;
    const { question } = one.gates.find(({ gate }) => gate === 'open-candy')!;
    const text = async (): Promise<string> => (await page.locator('main').textContent()) ?? '';
    await expect.poll(text).toContain(`${question} go`);
    await page.route('**/api/v1/nucs/n2', () => new Promise(() => undefined));
    await emit({ type: 'nuc', id: 'n2', logged: true });
    await expect.poll(text).not.toContain(`${question} go`);
    await page.unroute('**/api/v1/nucs/n2');
    await end();
  });
});

describe.skipIf(missing('Chromium', chromium))('the words of the log, as first shown on a phone', () => {
  const most = 150;
  it.each([
    '#/log',
    '#/log?nuc=n3',
    '#/log?nuc=n4',
    '#/log?nuc=n3&kind=cells-cut',
    '#/log?nuc=n3&kind=looked-for-queen',
    '#/log?nuc=n3&kind=split-made',
  ])('%s: at most 150', async (hash) => {
    const { page, open, end } = await visit({ context, farm: { nucs: 11 } });
    await open(hash);
    const words = Number(
      await page.evaluate(
        "(document.querySelector('main').innerText.match(/[\\\\p{L}\\\\d]+/gu) ?? []).length",
      ),
    );
    expect(words).toBeLessThanOrEqual(most);
    await end();
  });
});
