import { describe, expect, it } from 'vitest';
import { newest } from '../../dashboard/format/units.ts';
import { byName } from '../../dashboard/format/names.ts';
import { nucsNeedingAttention } from '../../dashboard/today/nucs-needing-attention.ts';
import { groupByTask, siteVisitsOf } from '../../dashboard/parts/site-visits.ts';
import { daysFromTo } from '../../dashboard/plan/days-from-to.ts';
import { shownUnit } from '../../dashboard/format/units.ts';
import { bandRuns, lineRuns, shownValue } from '../../dashboard/review/values.ts';
import { changesSince, snapshotOf } from '../../dashboard/state/last-visit.ts';
import { withReading } from '../../dashboard/state/with-reading.ts';
import { makeFarm } from '../browser/invented/farm.ts';
import { planOf } from '../browser/invented/plans.ts';

const farm = makeFarm({ nowMs: Date.parse('2026-05-14T12:00:00Z') });
const nucs = [...farm.details.values()];

describe('visits', () => {
  const trips = siteVisitsOf(planOf(farm, {}), '2026-05-14');
  it('come as trips: overdue, today, later; nothing that is done', () => {
    const order = trips.map((trip) => trip.when);
    expect(order).toEqual(
      [...order].sort(
        (a, b) => ['overdue', 'today', 'later'].indexOf(a) - ['overdue', 'today', 'later'].indexOf(b),
      ),
    );
    expect(order[0]).toBe('overdue');
    expect(trips.flatMap((trip) => trip.steps).some((step) => step.state === 'done')).toBe(false);
  });
  it('tell the same work once', () => {
    const steps = trips.flatMap((trip) => trip.steps);
    const groups = groupByTask(steps);
    expect(groups.flat()).toHaveLength(steps.length);
    expect(new Set(groups.map((group) => group[0]?.kind)).size).toBe(groups.length);
  });
  it('name nucs with the same work in natural order', () => {
    const [step] = trips.flatMap((trip) => trip.steps);
    const steps = ['Nuc 11', 'Nuc 2', 'Nuc 1'].map((nucName) => ({ ...step!, id: nucName, nucName }));
    expect(groupByTask(steps)[0]?.map(({ nucName }) => nucName)).toEqual(['Nuc 1', 'Nuc 2', 'Nuc 11']);
  });
});

describe('since you last looked', () => {
  const before = snapshotOf(nucs, 0);
  it('nothing, where nothing is new', () => {
    expect(changesSince(before, nucs)).toEqual([]);
  });
  it('a new nuc, a visit, a stage, foragers gone, a gate', () => {
    const first = nucs[0]!;
    const changed = {
      ...first,
      stage: 'hands-off',
      stageText: 'candy open, hands off',
      candyGate: { answer: 'go' as const, headline: '' },
    };
    expect(changesSince(before, [changed]).map((change) => change.words)).toEqual([
      'is now: candy open, hands off',
      'may have its queen let out',
    ]);
    const added = { ...first, hive: { ...first.hive, id: 'new' } };
    expect(changesSince(before, [added]).map((change) => change.words)).toEqual(['is new']);
    const leaving = { ...first, drift: first.drift && { ...first.drift, state: 'leaving' as const } };
    expect(changesSince(snapshotOf([leaving], 0), nucs.slice(0, 1)).map((c) => c.words)).toEqual([
      'has lost its foragers',
    ]);
  });
});

describe('those that need something', () => {
  it('come alarmed first, then late, then due; calm ones not at all', () => {
    const names = nucsNeedingAttention(nucs).map((one) => one.hive.name);
    expect(names.slice(0, 2)).toEqual(['Bramble 1', 'Teasel 6']);
    expect(names).not.toContain('Mallow 8');
  });
});

describe('a reading that comes in', () => {
  const one = nucs[0]!;
  const event = {
    type: 'reading',
    channelId: 1,
    value: 30,
    unit: 'Cel',
    time: '2026-05-14T12:00:05Z',
  } as const;
  it('is shown at once where it stands', () => {
    expect(withReading(one, { ...event, hiveId: one.hive.id, place: 'brood' }).latest.brood).toMatchObject({
      value: 30,
      stale: false,
    });
    expect(
      withReading(one, { ...event, siteId: one.hive.siteId, place: 'outside' }).latest.outside?.value,
    ).toBe(30);
  });
  it('is doubted as the server doubts it', () => {
    const failing = { ...event, value: -127, suspect: true, impossible: true };
    const shown = withReading(one, { ...failing, hiveId: one.hive.id, place: 'brood' }).latest.brood!;
    expect(shown).toMatchObject({ suspect: true, impossible: true });
    expect(newest(shown, { temperature: 'C', weight: 'kg' })).toBe('sensor fault');
  });
  it('changes nothing anywhere else', () => {
    expect(withReading(one, { ...event, hiveId: 'other', place: 'brood' })).toBe(one);
    expect(withReading(one, event)).toBe(one);
  });
});

describe('names', () => {
  it('come in the order that people count in', () => {
    expect(['Nuc 21', 'nuc 3', 'Nuc 11'].sort(byName)).toEqual(['nuc 3', 'Nuc 11', 'Nuc 21']);
  });
});

describe('days that can’t be worked', () => {
  it('count both ends and cross months', () => {
    expect(daysFromTo('2026-04-29', '2026-05-02')).toEqual([
      '2026-04-29',
      '2026-04-30',
      '2026-05-01',
      '2026-05-02',
    ]);
    expect(daysFromTo('2026-05-02', '2026-05-01')).toEqual([]);
    expect(daysFromTo('2026-01-01', '2030-01-01')).toHaveLength(62);
  });
});

describe('a batch on its band', () => {
  it('is drawn in runs without its gaps', () => {
    const band = { low: 1, middle: 2, high: 3 };
    expect(bandRuns([null, band, band, null, band])).toEqual([[1, 2], [4]]);
    expect(lineRuns([5, null, 6, 7])).toEqual([
      [[0, 5]],
      [
        [2, 6],
        [3, 7],
      ],
    ]);
  });
  it('has spreads in °F without the zero of the scale', () => {
    const fahrenheit = { temperature: 'F', weight: 'kg' } as const;
    expect(shownValue(1, { unit: 'Cel' }, true, fahrenheit)).toBeCloseTo(1.8, 12);
    expect(shownValue(1, { unit: 'Cel' }, false, fahrenheit)).toBeCloseTo(33.8, 12);
  });
  it('has a batch in °F, whose unit the server calls °C', () => {
    const fahrenheit = { temperature: 'F', weight: 'kg' } as const;
    expect(shownUnit('°C', fahrenheit)).toBe('°F');
    expect(shownValue(35, { unit: '°C' }, false, fahrenheit)).toBeCloseTo(95, 12);
    expect(shownValue(1, { unit: '°C' }, true, fahrenheit)).toBeCloseTo(1.8, 12);
  });
});
