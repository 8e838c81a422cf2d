/** Deliveries against nucs through HTTP: moved, late, dead on arrival, too few, too many; splits moved and called off. */
import ICAL from 'ical.js';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { isoDate } from '../../server/introduction/calendar.ts';
import { at, facts, zone } from '../introduction/support/field-log.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

type Queens = ResponseOf<'getQueens'>;
type Plan = ResponseOf<'getPlan'>;

/** Local date of day `n`; day 0 is 1 May 2027. */
const on = (n: number): string => isoDate(at(n), zone);
const delivery = {
  name: 'May delivery',
  source: 'Line A',
  expected: on(7),
  queens: 2,
  state: 'ordered',
  dead: 0,
};

let farm: FarmServer;
let nucIds: string[] = [];
const introduction = async (i: number): Promise<string> =>
  (await farm.get<ResponseOf<'listIntroductions'>>(`/nucs/${nucIds[i]!}/introductions`)).items[0]!.id;
const queens = (query = ''): Promise<Queens> => farm.get(`/plan/queens${query}`);
const dayOf = async (kind: string, i = 0): Promise<string | undefined> => {
  const { plan } = await farm.get<ResponseOf<'getNuc'>>(`/nucs/${nucIds[i]!}`);
  return plan.find((step) => step.kind === kind)?.target.slice(0, 10);
};
const move = (over: Partial<typeof delivery>) => farm.send('PUT', '/arrivals/a1', { ...delivery, ...over });

beforeEach(async () => {
  farm = await startFarm(at(-10));
  await farm.send('POST', '/sites', { id: 's1', name: 'Meadow', timeZone: zone, latDeg: 50, lonDeg: 10 });
  await farm.send('POST', '/arrivals', { id: 'a1', ...delivery });
  const made = await farm.send<ResponseOf<'createBatch'>>('POST', '/plan/batches', {
    name: 'May',
    siteId: 's1',
    nucs: 2,
    namePrefix: 'Nuc',
    by: 'arrival',
    arrivalId: 'a1',
  });
  nucIds = made.nucIds;
});
afterEach(() => farm.stop());

describe('a batch whose best day for the split is over', () => {
  const batch = { name: 'Late', siteId: 's1', nucs: 2, namePrefix: 'Late', by: 'arrival', arrivalId: 'a1' };

  it('is to be split today', async () => {
    farm.at(at(1, 9));
    const preview = await farm.send<ResponseOf<'previewBatch'>>('POST', '/plan/preview', batch);
    expect(preview.splitOn).toBe(on(1));
    expect(preview.steps.map(({ kind, target }) => [kind, target]).slice(0, 2)).toEqual([
      ['split', on(1)],
      ['queen-arrives', on(7)],
    ]);
  });

  it('hangs its queens on the day that each nuc’s own plan says', async () => {
    farm.at(at(1, 9));
    const [one] = (await queens()).items;
    expect(one!.nucs.map(({ hangOn }) => hangOn)).toEqual([
      await dayOf('hang-cage'),
      await dayOf('hang-cage', 1),
    ]);
  });
});

describe('fewer queens than nucs', () => {
  const clashes = async () => (await farm.get<Plan>('/plan')).items.flatMap((day) => day.clashes);

  it('says on the day of the split and of the cage which nuc no queen is left for', async () => {
    await move({ queens: 1 });
    expect(await clashes()).toEqual([
      'No queen is left for Nuc 2: leave the split until one is on order.',
      'No queen is left for Nuc 2: “Which nuc gets which queen” on the Plan page says what can be done.',
    ]);
    await move({ queens: 2 });
    expect(await clashes()).toEqual([]);
  });
});

describe('a delivery that moves', () => {
  it('takes the splits that are not made with it', async () => {
    expect(await dayOf('split')).toBe(on(0));
    await move({ expected: on(12) });
    expect([await dayOf('split'), await dayOf('cut-cells')]).toEqual([on(5), on(12)]);
    const [one] = (await queens()).items;
    expect(one).toMatchObject({ arrivalId: 'a1', comesOn: on(12), living: 2, over: 0 });
    expect(one!.nucs).toMatchObject([
      { nucName: 'Nuc 1', order: 1, splitFollows: true, splitMade: false, splitOn: on(5), hangOn: on(12) },
      { nucName: 'Nuc 2', order: 2 },
    ]);
  });

  it('shows what each nuc could do before it is moved, and stores nothing', async () => {
    farm.at(at(0, 11));
    await farm.log(await introduction(0), facts.split(), at(0));
    farm.at(at(6));
    const [moved] = (await queens(`?arrival=a1&expected=${on(24)}`)).items;
    const [unsplit, split] = moved!.nucs;
    expect(unsplit).toMatchObject({ nucName: 'Nuc 2', order: 1, splitOn: on(17) });
    expect(split).toMatchObject({ nucName: 'Nuc 1', late: true, order: null, waitsUntil: on(21) });
    expect(split!.why).toBe('the queens come after the day until which it can wait');
    expect(split!.choices.map(({ kind, fits }) => [kind, fits])).toEqual([
      ['wait', false],
      ['brood-frame', true],
      ['start-anew', true],
    ]);
    expect((await queens()).items[0]).toMatchObject({ comesOn: on(7) });
    expect((await farm.ask('GET', '/plan/queens?arrival=a1')).detail).toContain('neither');
    expect(await farm.ask('GET', `/plan/queens?arrival=none&expected=${on(9)}`)).toMatchObject({
      status: 404,
      detail: 'There is no delivery none.',
    });
  });

  it('tells on the nuc’s own page that the queen is late, and what can be done', async () => {
    farm.at(at(0, 11));
    await farm.log(await introduction(0), facts.split(), at(0));
    const nuc = () => farm.get<ResponseOf<'getNuc'>>(`/nucs/${nucIds[0]!}`);
    expect((await nuc()).waiting).toMatchObject({ late: false, comesOn: on(7) });
    await move({ expected: on(15), state: 'delayed' });
    const { waiting } = await nuc();
    expect(waiting).toMatchObject({ late: true, comesOn: on(15), waitsUntil: on(21) });
    expect(waiting!.choices[0]).toMatchObject({ kind: 'wait', fits: true, on: on(15) });
  });

  it('says so when its day is over and nobody noted that it came', async () => {
    farm.at(at(9));
    const [one] = (await queens()).items;
    expect(one!.advice.join(' ')).toContain('expected is over');
  });
});

describe('fewer queens than nucs', () => {
  it('gives what lives to those that can wait least; the others see what they can do', async () => {
    farm.at(at(0, 11));
    await farm.log(await introduction(1), facts.split(), at(0));
    farm.at(at(1, 11));
    await farm.log(await introduction(0), facts.split(), at(1));
    farm.at(at(7, 13));
    await move({ state: 'arrived', dead: 1 });
    const [one] = (await queens()).items;
    expect(one).toMatchObject({ living: 1, over: 0 });
    expect(one!.advice.join(' ')).toMatch(
      /1 queen came dead: tell the breeder the same day.*1 nuc goes without/,
    );
    expect(one!.nucs).toMatchObject([
      { nucName: 'Nuc 2', order: 1, why: 'of those that wait, workers may lay in it first' },
      { nucName: 'Nuc 1', order: null, comesOn: null },
    ]);
    expect(one!.nucs[1]!.choices[0]).toMatchObject({ kind: 'wait', fits: false });

    // The second nuc's queen is hung; the first waits for another delivery.
    await farm.log(await introduction(1), facts.hung());
    expect((await queens()).items[0]).toMatchObject({ living: 0, nucs: [{ nucName: 'Nuc 1', order: null }] });
    await farm.send('POST', '/arrivals', { ...delivery, id: 'a2', name: 'June', expected: on(14) });
    await farm.send('PATCH', `/introductions/${await introduction(0)}`, { arrivalId: 'a2' });
    const named = (await queens()).items;
    expect(named.map(({ name }) => name)).toEqual(['June']);
    expect(named[0]!.nucs).toMatchObject([{ nucName: 'Nuc 1', order: 1, comesOn: on(14) }]);
  });

  it('shares none to a nuc with signs of brood disease, nor offers it one that is left', async () => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    await farm.log(await introduction(0), { kind: 'brood-disease', found: 'signs' });
    const [one] = (await queens()).items;
    expect(one).toMatchObject({
      living: 2,
      over: 1,
      nucs: [
        { nucName: 'Nuc 2', order: 1, why: 'it is the last that waits' },
        { nucName: 'Nuc 1', order: null, why: expect.stringContaining('signs of brood disease') as string },
      ],
    });
    expect(one!.nucs[1]!.choices.map(({ text }) => text)).toEqual([
      expect.stringContaining('call the bee inspector'),
    ]);
    expect(one!.advice.join(' ')).not.toContain('without: name another');
    const clashes = (await farm.get<Plan>('/plan')).items.flatMap((day) => day.clashes);
    expect(clashes.filter((text) => text.includes('No queen is left'))).toEqual([]);
    const other = { ...delivery, id: 'a2', name: 'Spare', queens: 1, state: 'arrived' };
    await farm.send('POST', '/arrivals', other);
    const spare = (await queens()).items.flatMap(({ nucs, advice }) => [
      ...nucs.flatMap((nuc) => nuc.spare ?? []),
      ...advice.filter((text) => text.includes('name that delivery')),
    ]);
    expect(spare).toEqual([]);

    for (const [i, queenId] of ['queen-one', 'queen-two'].entries())
      await farm.log(await introduction(i), facts.arrived({ queenId }));
    const { items: days } = await farm.get<Plan>('/plan');
    const hung = days.flatMap(({ steps }) => steps.filter(({ kind }) => kind === 'hang-cage'));
    expect(hung.map(({ nucName, queen }) => [nucName, queen !== undefined]).toSorted()).toEqual([
      ['Nuc 1', false],
      ['Nuc 2', true],
    ]);
  });

  it('counts a queen that is logged as dead on arrival at the nuc, and wants another for it', async () => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    await farm.log(await introduction(0), facts.arrived({ condition: 'dead' }));
    await farm.log(await introduction(1), facts.arrived({ queenId: 'queen-two' }));
    const [one] = (await queens()).items;
    expect(one).toMatchObject({
      living: 0,
      nucs: [{ nucName: 'Nuc 1', order: null, why: 'no queen is left for it' }],
    });
  });

  it.each<readonly [string, Parameters<FarmServer['log']>[1]]>([
    ['died in the keeper’s hand', { kind: 'queen-dead' }],
    ['flew off before she was hung', { kind: 'queen-escaped', to: 'outside' }],
  ])('counts no queen as living that came alive and %s', async (_, lost) => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    await farm.log(await introduction(0), facts.arrived());
    farm.at(at(7, 15));
    await farm.log(await introduction(0), lost);
    expect((await queens()).items[0]).toMatchObject({ living: 1, over: 0 });
  });

  it('counts a queen once that was hung in one nuc and given to another, and wants another for the first', async () => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    await farm.log(await introduction(0), facts.hung());
    farm.at(at(8, 15));
    await farm.log(await introduction(0), {
      kind: 'cage-taken-out',
      queen: 'in-the-cage',
      forAnotherNuc: true,
    });
    await farm.log(await introduction(1), facts.hung());
    expect((await queens()).items[0]).toMatchObject({
      living: 1,
      over: 0,
      nucs: [{ nucName: 'Nuc 1', order: 1 }],
    });
  });

  it('shares none to a nuc in which workers lay, and says in words for several who goes without', async () => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 9));
    await move({ dead: 2 });
    expect((await queens()).items[0]!.advice).toContain(
      '2 nucs go without: name another delivery for them, or see what they can do.',
    );
    await move({ dead: 0 });
    farm.at(at(7, 13));
    const workers = facts.inspection({
      youngestBrood: 'eggs',
      severalEggsACell: true,
      droneBroodInWorkerCells: true,
    });
    await farm.log(await introduction(0), workers);
    expect((await queens()).items[0]!.nucs).toMatchObject([
      { nucName: 'Nuc 2', order: 1 },
      { nucName: 'Nuc 1', order: null, why: 'workers lay in it, and they kill a queen' },
    ]);
  });

  it.each([
    ['while its end is closed', []],
    ['after its candy end was opened', [facts.opened()]],
    ['and she had been found laying', [facts.opened(), facts.looked()]],
  ])(
    'offers a nuc whose queen died in her cage, or out of it, the queen that is left: %s',
    async (_, then) => {
      farm.at(at(0, 11));
      for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
      farm.at(at(7, 13));
      await move({ state: 'arrived', queens: 3 });
      const days = [facts.hung(), facts.cut(), ...then];
      for (const [i, fact] of days.entries()) {
        farm.at(at(7 + 4 * i, 14));
        await farm.log(await introduction(0), fact);
      }
      farm.at(at(8 + 4 * days.length, 14));
      await farm.log(await introduction(1), facts.hung({ queenId: 'queen-two' }));
      await farm.log(await introduction(0), facts.atCage({ queenAlive: false }));
      const [one] = (await queens()).items;
      expect(one).toMatchObject({ living: 1, over: 0, nucs: [{ nucName: 'Nuc 1', order: 1 }] });
    },
  );

  it('offers a living queen of another delivery where one came dead', async () => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    await farm.log(await introduction(0), facts.arrived({ condition: 'dead' }));
    await farm.log(await introduction(1), facts.arrived({ queenId: 'queen-two' }));
    expect((await queens()).items[0]!.advice.join(' ')).not.toContain('name that delivery');
    const other = { ...delivery, id: 'a2', name: 'Spare', queens: 1 };
    await farm.send('POST', '/arrivals', { ...other, state: 'arrived', arrived: on(6) });
    const one = (await queens()).items.find(({ arrivalId }) => arrivalId === 'a1');
    expect(one!.advice.join(' ')).toContain('1 queen of “Spare” has no nuc: name that delivery');
    const spare = [{ arrivalId: 'a2', name: 'Spare', queens: 1 }];
    expect(one!.nucs).toMatchObject([{ nucName: 'Nuc 1', order: null, spare }]);
  });

  it('counts a queen that came dead for the delivery that she is named after, whatever her nuc is planned for now', async () => {
    farm.at(at(0, 11));
    for (const i of [0, 1]) await farm.log(await introduction(i), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    await farm.log(await introduction(0), facts.arrived({ queenId: 'Line A 1', condition: 'dead' }));
    const other = { ...delivery, id: 'a2', name: 'Spare', source: 'Line B', queens: 1 };
    await farm.send('POST', '/arrivals', { ...other, state: 'arrived', arrived: on(6) });
    await farm.send('PATCH', `/introductions/${await introduction(0)}`, { arrivalId: 'a2' });
    const { items } = await queens();
    expect(items.find(({ arrivalId }) => arrivalId === 'a2')).toMatchObject({
      living: 1,
      nucs: [{ nucName: 'Nuc 1', order: 1 }],
    });
    expect(items.find(({ arrivalId }) => arrivalId === 'a1')).toMatchObject({
      living: 1,
      nucs: [{ nucName: 'Nuc 2', order: 1 }],
    });
  });

  it('never puts two into one nuc: those over are said, with how long they keep', async () => {
    await farm.ask('PATCH', `/introductions/${await introduction(1)}`, { calledOff: true });
    farm.at(at(0, 11));
    await farm.log(await introduction(0), facts.split(), at(0));
    farm.at(at(7, 13));
    await move({ state: 'arrived' });
    const [one] = (await queens()).items;
    expect(one).toMatchObject({ living: 2, over: 1, nucs: [{ nucName: 'Nuc 1', order: 1 }] });
    expect(one!.advice.join(' ')).toContain('never two in one nuc');
  });
});

describe('a planned split', () => {
  const patch = async (body: object, i = 0) =>
    farm.ask('PATCH', `/introductions/${await introduction(i)}`, body);

  it('is moved by its own day, and let follow the delivery again', async () => {
    const moved = await patch({ plannedSplit: on(2) });
    expect([moved.status, await dayOf('split'), await dayOf('cut-cells')]).toEqual([200, on(2), on(9)]);
    await move({ expected: on(20) });
    expect(await dayOf('split')).toBe(on(2));
    expect((await queens()).items[0]!.nucs.find(({ nucName }) => nucName === 'Nuc 1')).toMatchObject({
      splitFollows: false,
    });
    await patch({ plannedSplit: null });
    expect(await dayOf('split')).toBe(on(13));
  });

  it('is called off: no steps, its queen free, and the log says so; the nuc can begin anew', async () => {
    const off = await patch({ calledOff: true, reason: 'parent swarmed' });
    expect(off).toMatchObject({ status: 200, body: { closedAt: expect.any(String) as string } });
    const nuc = await farm.get<ResponseOf<'getNuc'>>(`/nucs/${nucIds[0]!}`);
    expect(nuc.plan).toEqual([]);
    expect(nuc.setup).toMatchObject({ ended: true });
    expect(nuc.log[0]!.text).toContain('Called off before the split: parent swarmed');
    const { items } = await farm.get<ResponseOf<'listArrivals'>>('/arrivals');
    expect(items[0]!.assigned).toBe(1);
    const outcomes = await farm.get<ResponseOf<'outcomes'>>('/review/outcomes?by=source');
    expect(outcomes.items.reduce((sum, one) => sum + one.lost, 0)).toBe(0);
    farm.at(at(-10, 11));
    const again = await farm.ask('POST', `/nucs/${nucIds[0]!}/introductions`, {
      startingPoint: 'planned-split',
      method: 'candy-cage',
      arrivalId: 'a1',
    });
    expect(again).toMatchObject({ status: 200, body: { arrivalId: 'a1' } });
    expect(await dayOf('split')).toBe(on(0));
    const twice = await farm.ask('POST', `/nucs/${nucIds[0]!}/introductions`, {
      startingPoint: 'planned-split',
      method: 'candy-cage',
    });
    expect(twice).toMatchObject({
      status: 409,
      detail: 'An introduction is under way in Nuc 1: log how it ended, or call it off, first.',
    });
  });

  it('refuses what makes no sense, in a sentence, and changes nothing', async () => {
    const before = await farm.get<Plan>('/plan');
    const refusals: [object, number, RegExp][] = [
      [{ plannedSplit: on(-11) }, 400, /Nuc 1 can’t be planned for 2027-04-20: that day is over/],
      [{ plannedSplit: '2029-05-01' }, 400, /more than a year ahead/],
      [{ plannedSplit: 'soon' }, 400, /plannedSplit/],
      [{ arrivalId: 'none' }, 404, /There is no delivery none/],
      [{ arrivalId: null }, 409, /no delivery to follow/],
      [{}, 400, /either name a day/],
      [{ calledOff: true, plannedSplit: on(3) }, 400, /either name a day/],
      [{ splitOn: on(3) }, 400, /splitOn/],
    ];
    for (const [body, status, words] of refusals) {
      const answer = await patch(body);
      expect([body, answer.status]).toEqual([body, status]);
      expect(answer.detail).toMatch(words);
    }
    expect(await farm.ask('PATCH', '/introductions/none', { plannedSplit: on(1) })).toMatchObject({
      status: 404,
      detail: 'There is no introduction none.',
    });
    expect(await farm.get<Plan>('/plan')).toEqual(before);
  });

  it('is past moving once it was made, and past everything once the introduction has ended', async () => {
    farm.at(at(0, 11));
    await farm.log(await introduction(0), facts.split(), at(0));
    expect(await patch({ plannedSplit: on(3) })).toMatchObject({
      status: 409,
      detail: `The split of Nuc 1 was made on ${on(0)}: correct that entry of its log instead.`,
    });
    expect((await patch({ calledOff: true })).detail).toContain('log how it ended instead');
    await farm.log(await introduction(0), { kind: 'outcome', outcome: 'given-up' });
    expect((await patch({ arrivalId: null })).detail).toContain('has ended');
  });
});

describe('the calendar that phones subscribe to', () => {
  /** Start and revision of each event, by UID. */
  const events = async () => {
    const { path } = await farm.send<{ path: string }>('POST', '/plan/calendar-link');
    const text = await (await fetch(farm.url + path)).text();
    const read = new ICAL.Component(ICAL.parse(text) as never).getAllSubcomponents('vevent');
    return new Map(
      read.map((component) => {
        const { uid, sequence, startDate } = new ICAL.Event(component);
        return [uid, { sequence, startMs: startDate.toUnixTime() * 1000 }] as const;
      }),
    );
  };

  it('raises the revision of every event that moves, forth and back, and of no other (RFC 5545 §3.8.7.4)', async () => {
    const first = await events();
    expect(first.size).toBeGreaterThan(4);
    expect(await events()).toEqual(first);
    let before = first;
    const turns: (() => Promise<unknown>)[] = [
      () => move({ expected: on(12) }),
      async () => farm.send('PATCH', `/introductions/${await introduction(0)}`, { plannedSplit: on(2) }),
      () => move({ expected: on(7) }),
    ];
    for (const turn of turns) {
      await turn();
      const after = await events();
      expect([...after.keys()].sort()).toEqual([...first.keys()].sort());
      let moved = 0;
      for (const [uid, { sequence, startMs }] of after) {
        const was = before.get(uid)!;
        if (startMs !== was.startMs) moved++;
        expect(sequence, uid).toBe(was.sequence + (startMs === was.startMs ? 0 : 1));
      }
      expect(moved).toBeGreaterThan(0);
      before = after;
    }
  });
});

describe('the work of the days around today', () => {
  const dates = async (query: string): Promise<string[]> =>
    (await farm.get<Plan>(`/plan?${query}`)).items.map(({ date }) => date);

  it('counts them on the calendar of the site, by the clock of the server', async () => {
    // Her cage hangs on day 7, with the cut, once the post has been.
    expect(await dates('')).toEqual([0, 7, 10, 17, 27].map(on));
    expect(await dates('back=0&ahead=9')).toEqual([]);
    expect(await dates('back=0&ahead=10')).toEqual([on(0)]);
    // Half past midnight at the site: in UTC it is still the day before.
    farm.at(at(-9, 0.5));
    expect(await dates('back=0&ahead=8')).toEqual([]);
    expect(await dates('back=0&ahead=9')).toEqual([on(0)]);
    expect(await dates(`ahead=17&from=${on(1)}&to=${on(30)}`)).toEqual([on(7)]);
    farm.at(at(7, 0.5));
    expect(await dates('back=0&ahead=0')).toEqual([on(7)]);
    expect((await farm.ask('GET', '/plan?ahead=soon')).status).toBe(400);
  });

  it('warns of a day on which the forecast is too cold for brood frames (12 °C: common practice)', async () => {
    const clashes = async (highC: number) => {
      const hours = [12, 15].map((hour) => ({ atMs: at(0, hour), temperatureC: hour === 15 ? highC : 3 }));
      const said = { kind: 'topic', siteId: null, source: 'hives/forecast' } as const;
      farm.store.forecasts.keep({ ...said, saidAtMs: at(-1, 8), knownAtMs: at(-1, 8), hours });
      farm.at(at(-1, 9));
      return (await farm.get<Plan>(`/plan?from=${on(0)}&to=${on(7)}`)).items.map((day) => day.clashes);
    };
    expect(await clashes(8)).toEqual([
      ['At most 8.0 °C is forecast: brood frames cool fast, so be quick.'],
      // Not foretold so far ahead.
      [],
    ]);
    expect(await clashes(12)).toEqual([[], []]);
  });
});
