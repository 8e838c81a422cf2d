/** What the first page asks for and when: it is opened in a field, by a slow phone, and has to be there soon. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { alertFor } from './invented/alerts.ts';
import { phone, visit } from './visit.ts';
import type { Visit, VisitOptions } from './visit.ts';

const forToday = [
  '/api/v1/alerts?state=open',
  '/api/v1/me',
  '/api/v1/nucs?traces=false',
  '/api/v1/plan?back=14&ahead=7',
  '/api/v1/sites',
];

/** A visit that keeps the page's own scripts back until the given questions have been asked, and notes all of them. */
async function held(until: readonly string[], options: VisitOptions = {}) {
  const there = await visit({
    ...options,
    context: { viewport: phone, ...options.context },
  });
  const asked: string[] = [];
  const before: string[] = [];
  let enough: () => void = () => undefined;
  const allAsked = new Promise<void>((resolve) => {
    enough = resolve;
  });
  there.page.on('request', (request) => {
    const { pathname, search } = new URL(request.url());
    if (!pathname.includes('/api/') || pathname.endsWith('/events')) return;
    asked.push(pathname + search);
    if (until.every((one) => asked.includes(one))) enough();
  });
  await there.page.route('**/assets/index-*.js', async (route) => {
    await allAsked;
    before.push(...asked);
    await route.continue();
  });
  return { there, asked, before };
}

describe('Today, opened', () => {
  it('asks for all it shows before its scripts are there, and for each of it once', async () => {
    const { there, asked, before } = await held(forToday);
    // It asks again where its stream took seconds to open; by a clock that stands still it never does.
    await there.page.clock.setFixedTime(Date.now());
    await there.open('');
    await there.page.locator('.day-line').first().waitFor();
    expect([...before].sort()).toEqual(forToday);
    expect([...asked].sort()).toEqual(forToday);
    await there.end();
  });
  it('hears what is told while its scripts are still on their way', async () => {
    const { there } = await held(forToday, { farm: { nucs: 4 } });
    const { fixture, page } = there;
    // Nothing is asked again because the stream opened late: what is shown must come from what it said.
    await page.clock.setFixedTime(Date.now());
    const firstAnswers = forToday.map(async (path) => {
      const answer = await page.waitForResponse((response) => response.url().endsWith(path));
      await answer.finished();
    });
    await page.route('**/assets/index-*.js', async (route) => {
      // What comes now is only on the stream.
      await Promise.all(firstAnswers);
      await expect.poll(() => page.evaluate('eventsHeard')).toBe(1);
      fixture.farm.alerts = [alertFor(fixture.farm.cases[2]!, fixture.farm.nowMs())];
      fixture.emit({
        type: 'alert',
        id: 'alert-n3',
        phase: 'raised',
        urgency: 'now',
        headline: 'Keep it warm',
      });
      await expect.poll(() => page.evaluate('eventsHeard')).toBe(2);
      await route.continue();
    });
    await there.open('#/today');
    await page.getByRole('article', { name: /^Keep Alder 3 warm/ }).waitFor();
    await there.end();
  });
  it('finds its questions below the base path of a proxy, too', async () => {
    const { there, before } = await held(
      forToday.map((one) => `/bees${one}`),
      { fixture: { basePath: '/bees' } },
    );
    await there.open('#/today');
    expect(before).toHaveLength(forToday.length);
    await there.end();
  });
  it('asks on another page for no more than who is here', async () => {
    const { there, before } = await held(['/api/v1/me']);
    await there.open('#/settings');
    expect(before).toEqual(['/api/v1/me']);
    await there.end();
  });
});

describe('what is folded away', () => {
  let there: Visit;
  beforeAll(async () => {
    there = await visit({ context: { viewport: phone } });
    await there.open('#/today');
  });
  afterAll(() => there.end());

  it('has the rows of the evidence once its table is opened', async () => {
    await there.page.locator('article.alert .why > summary').first().click();
    const figure = there.page.locator('.fold-body figure.evidence').first();
    expect(await figure.locator('tr').count()).toBe(0);
    await figure.getByText('As a table').click();
    await figure.locator('tbody tr').first().waitFor();
    expect(await figure.locator('tbody tr').count()).toBe(25);
    expect(await figure.locator('tbody tr').first().innerText()).toMatch(/\d\d:\d\d\s+3\d\.\d °C/);
  });
  it('has the signs of the rail once its legend is opened', async () => {
    await there.open('#/nucs');
    const legend = there.page.locator('.legend');
    await legend.locator('summary').click();
    await legend.getByText('queen caged').waitFor();
    expect(await legend.locator('li').count()).toBe(9);
  });
});

it('says on every page how many alerts wait for somebody now', async () => {
  const there = await visit({ context: { viewport: phone } });
  await there.open('#/log');
  await there.page.getByRole('link', { name: 'Today 1 now' }).waitFor();
  await there.end();
});

it('shows a message that was not understood with its reason in one line of words, not a column of letters', async () => {
  const there = await visit({ context: { viewport: phone } });
  await there.open('#/sensors');
  const reason = there.page.locator('.quarantine .reason').first();
  const { width } = (await reason.boundingBox()) ?? { width: 0 };
  expect(await reason.evaluate((one) => one.ownerDocument.defaultView!.getComputedStyle(one).display)).toBe(
    'block',
  );
  expect(width).toBeGreaterThan(250);
  await there.end();
});

it('offers what is overdue before what is due, and tells the steps of a plan by their days', async () => {
  const there = await visit({ context: { viewport: phone } });
  await there.open('#/log');
  await there.page.locator('.due-group').first().waitFor();
  const rows = await there.page.locator('.due-group > span').allInnerTexts();
  expect(rows.map((row) => row.startsWith('overdue: '))).toEqual([true, false, false]);
  await there.open('#/nucs/n1');
  await there.page.getByRole('heading', { name: 'Plan and dates' }).click();
  const days = there.page.locator('.plan-steps > li b');
  await days.first().waitFor();
  const steps = await days.allInnerTexts();
  expect(steps.slice(0, 3)).toEqual(['Tue 5 May', 'Fri 8 May', 'Tue 12 May']);
  await there.end();
});

it('says of a night ahead that its figure is the lowest to come, not one of now', async () => {
  const there = await visit({ context: { viewport: phone } });
  await there.open('#/today');
  await there.page
    .getByRole('region', { name: 'Tonight', exact: true })
    .getByText(/^lowest about 27\.1 °C, limit/)
    .first()
    .waitFor();
  await there.end();
});

it('names no last day that is over', async () => {
  const there = await visit({ context: { viewport: phone } });
  const { farm } = there.fixture;
  const one = farm.details.get('n3')!;
  const { blockedBy: _none, ...step } = one.plan[0]!;
  const on = (days: number): string => new Date(farm.nowMs() + days * 86_400_000).toISOString();
  farm.details.set('n3', {
    ...one,
    plan: [
      { ...step, id: 'late', state: 'overdue', target: on(0), latest: on(-2) },
      { ...step, id: 'due', state: 'due', target: on(0), latest: on(1) },
    ],
  });
  await there.open('#/nucs/n3');
  await there.page
    .getByRole('region', { name: 'Next', exact: true })
    .getByText('today, tomorrow at the latest')
    .waitFor();
  await there.end();
});

it('says what the first form still lacks, as long as its button can’t be pressed', async () => {
  const at = await visit({
    farm: { empty: true, passwordSet: false, signedIn: false },
    context: { viewport: phone },
  });
  await at.open('');
  const button = at.page.getByRole('button', { name: 'Set up' });
  const words = at.page.getByText(/^Still missing: /);
  await words.waitFor();
  expect(await button.isDisabled()).toBe(true);
  expect(await words.innerText()).toMatch(/^Still missing: a password\b/);
  await at.page.getByLabel('Password').first().fill('hedge lamp river stone');
  await at.page.getByLabel('Name of the site').fill('');
  await expect.poll(() => words.innerText()).toMatch(/a name for the site\.$/);
  await at.page.getByLabel('Name of the site').fill('Mill lane');
  const code = at.page.getByLabel('Setup code', { exact: true });
  if ((await code.count()) > 0) await code.fill('7AY8-5KMC');
  await expect.poll(() => button.isEnabled()).toBe(true);
  expect(await words.count()).toBe(0);
  await at.end();
});
