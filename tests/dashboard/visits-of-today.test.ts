/** The plan as Today says it: one line a nuc, things to bring by site, blocked acts apart. */
import { describe, expect, it } from 'vitest';
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { PlanStepDto } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import {
  daysAhead,
  nextSteps,
  overdueSince,
  stepsInWords,
  visitsOfToday,
} from '../../dashboard/today/visits-of-today.ts';
import { alertFor } from '../browser/invented/alerts.ts';
import { makeFarm } from '../browser/invented/farm.ts';

const farm = makeFarm({ nucs: 2 });
const template = farm.details.get('n1')!.plan[0]!;
const step = (nucName: string, label: string, more: Partial<PlanStepDto> = {}): PlanStepDto => ({
  ...template,
  id: `${nucName} ${label}`,
  nucId: nucName,
  nucName,
  label,
  state: 'due',
  ...more,
});
const day = (
  date: string,
  siteId: string,
  steps: PlanStepDto[],
  bring: string[] = [],
): PlanDto['items'][number] => ({
  date,
  siteId,
  siteName: siteId,
  steps,
  bring,
  clashes: [],
});
const planOf = (...items: PlanDto['items']): PlanDto => ({ items, unavailable: [] });

describe('visits of today', () => {
  const today = '2026-05-14';
  const lateStep = {
    state: 'overdue',
    target: '2026-05-12T10:00:00Z',
    latest: '2026-05-12T22:00:00Z',
  } as const;
  const plan = planOf(
    day('2026-05-12', 'b', [step('Nuc 11', 'Look for the queen', lateStep)], ['veil']),
    day(
      today,
      'b',
      [
        step('Nuc 2', 'Cut the cells'),
        step('Nuc 2', 'Hang the cage'),
        step('Nuc 11', 'Fed', { state: 'done' }),
      ],
      ['veil', 'queen Thorn-3 (kept warm)'],
    ),
    day(
      today,
      'a',
      [step('Nuc 5', 'Open the candy end', { blockedBy: 'A cell stands.', state: 'planned' })],
      ['tool'],
    ),
    day('2026-05-15', 'b', [step('Nuc 2', 'Second look', { state: 'planned' })]),
  );

  it('are one line a nuc, in the order in which people count, with what is overdue', () => {
    const [, b] = visitsOfToday(plan, [], today);
    expect(b!.nucs.map(({ nucName, steps }) => [nucName, stepsInWords(steps)])).toEqual([
      ['Nuc 2', 'Cut the cells, hang the cage'],
      ['Nuc 11', 'Look for the queen'],
    ]);
    expect(overdueSince(b!.nucs[1]!.steps, today, (iso) => iso.slice(0, 10))).toBe('2026-05-12');
  });

  it('have what is forbidden apart, and nothing to bring for it', () => {
    const [a] = visitsOfToday(plan, [], today);
    expect(a!.nucs).toMatchObject([{ steps: [], blocked: [{ label: 'Open the candy end' }] }]);
    expect(a!.bring).toEqual([]);
  });

  it('name each thing to bring once for a site, and what a nuc in trouble there needs', () => {
    const trouble: AlertDto = { ...alertFor(farm.cases[0]!, farm.nowMs()), siteId: 'b', siteName: 'b' };
    const elsewhere: AlertDto = { ...trouble, siteId: 'c', siteName: 'c' };
    const sites = visitsOfToday(plan, [trouble, elsewhere], today);
    expect(sites.map(({ siteId }) => siteId)).toEqual(['a', 'b', 'c']);
    expect(sites[1]!.bring).toEqual(['veil', 'queen Thorn-3 (kept warm)', 'insulation', 'entrance block']);
    expect(sites[2]).toMatchObject({
      nucs: [],
      bring: ['insulation', 'entrance block'],
      help: ['Bramble 1'],
    });
  });

  it('name a nuc in trouble beside them only where no visit is due to it', () => {
    const trouble: AlertDto = { ...alertFor(farm.cases[0]!, farm.nowMs()), siteId: 'b', siteName: 'b' };
    const about = (nucId: string): AlertDto => ({
      ...trouble,
      subject: { ...trouble.subject, id: nucId, name: nucId, nucIds: [nucId] },
    });
    const [, b] = visitsOfToday(plan, [about('Nuc 2'), about('Nuc 7')], today);
    expect(b!.help).toEqual(['Nuc 7']);
    expect(b!.bring).toContain('insulation');
  });

  it('leave the days after to a line each', () => {
    expect(daysAhead(plan, today)).toMatchObject([
      { date: '2026-05-15', sites: [{ siteName: 'b', nucs: [{ nucName: 'Nuc 2' }] }] },
    ]);
  });
});

describe('the next visit of a nuc', () => {
  const dayOf = (iso: string): string => iso.slice(0, 10);
  const on = (date: string, label: string, more: Partial<PlanStepDto> = {}): PlanStepDto =>
    step('Nuc 2', label, { target: `${date}T10:00:00.000Z`, ...more });
  const labels = (...plan: PlanStepDto[]): string[] => nextSteps(plan, dayOf).map(({ label }) => label ?? '');

  it.each([
    {
      what: 'all of the first day that is not done',
      plan: [
        on('2026-05-15', 'Second look'),
        on('2026-05-14', 'Cut the cells'),
        on('2026-05-14', 'Hang the cage'),
        on('2026-05-07', 'Split made', { state: 'done' }),
      ],
      expected: ['Cut the cells', 'Hang the cage'],
    },
    {
      what: 'without what is only offered, as in the visits of today',
      plan: [on('2026-05-14', 'Cut the cells'), on('2026-05-14', 'Hang the cage', { offered: true })],
      expected: ['Cut the cells'],
    },
    {
      what: 'without what is barred',
      plan: [
        on('2026-05-14', 'Open the candy end', { blockedBy: 'A cell stands.' }),
        on('2026-05-15', 'Second look'),
      ],
      expected: ['Second look'],
    },
    {
      what: 'what is due in the nuc, without a queen who is late',
      plan: [
        on('2026-05-14', 'Queen arrives', { kind: 'queen-arrives', state: 'overdue' }),
        on('2026-05-14', 'Second look'),
      ],
      expected: ['Second look'],
    },
    {
      what: 'a queen who is late where nothing else is due',
      plan: [
        on('2026-05-14', 'Queen arrives', { kind: 'queen-arrives', state: 'overdue' }),
        on('2026-05-16', 'Second look', { state: 'planned' }),
      ],
      expected: ['Queen arrives'],
    },
    {
      what: 'what is offered where nothing else is left',
      plan: [on('2026-05-14', 'Graft', { offered: true })],
      expected: ['Graft'],
    },
    {
      what: 'what waits for a queen without a day where nothing has one',
      plan: [
        on('2026-05-14', 'Hang the cage', { offered: true, afterArrivalDays: 0 }),
        on('2026-05-14', 'Give a frame of open brood', { offered: true }),
      ],
      expected: ['Give a frame of open brood'],
    },
  ])('is $what', ({ plan, expected }) => {
    expect(labels(...plan)).toEqual(expected);
  });
});

describe('what is overdue', () => {
  const dayOf = (iso: string): string => iso.slice(0, 10);
  const until = (latest: string, state: PlanStepDto['state'] = 'overdue'): PlanStepDto =>
    step('Nuc 2', 'Cut the cells', { state, target: '2026-05-14T10:00:00Z', latest: `${latest}T22:00:00Z` });

  it('is so since the last day for it, though it is planned for today', () => {
    expect(overdueSince([until('2026-05-11'), until('2026-05-09')], '2026-05-14', dayOf)).toBe('2026-05-09');
  });

  it('is so since the day for which it was planned, where that is over and its last day is today', () => {
    const steps = [{ ...until('2026-05-14'), target: '2026-05-13T10:00:00Z' }, until('2026-05-14')];
    expect(overdueSince(steps, '2026-05-14', dayOf)).toBe('2026-05-13');
  });

  it('is nothing that is only due, and nothing on its last day', () => {
    const steps = [until('2026-05-09', 'due'), until('2026-05-14')];
    expect(overdueSince(steps, '2026-05-14', dayOf)).toBeUndefined();
  });
});
