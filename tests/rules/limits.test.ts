/** Limits for the farm, a site and a nuc: the nearest wins, and nothing senseless is taken. */
import { describe, expect, it } from 'vitest';
import {
  adjustable,
  limitsFor,
  noLimitSettings,
  originOf,
  problemWithLimit,
} from '../../server/rules/engine/limits.ts';
import { readLimits, storedWithLimit } from '../../server/rules/engine/stored-limits.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { evaluateAll } from '../../server/rules/engine/evaluate.ts';
import {
  brokenInput,
  channelSubject,
  noon,
  nucInput,
  nucSubject,
  serverSubject,
  siteSubject,
} from './made-up.ts';

const silent = rules.find(({ id }) => id === 'sensor-silent')!;
const settings = {
  farm: { 'sensor-silent': { intervals: 5, atLeastMin: 60 } },
  sites: { s1: { 'sensor-silent': { intervals: 6 } } },
  nucs: { n1: { 'sensor-silent': { holdMin: 3 } } },
};

it('a difference of temperatures is one by its unit, too: else a reader in °F is shown 33.8 for one degree', () => {
  const limits = rules.flatMap(({ id, limits: own }) =>
    Object.entries(own).map(([name, { unit }]) => ({ id, name, unit })),
  );
  expect(limits.filter(({ name, unit }) => (unit === '°C') !== name.endsWith('C'))).toEqual([]);
});

describe('the limits in force', () => {
  it('are the nearest that somebody set', () => {
    expect(limitsFor(silent, channelSubject, settings)).toEqual({
      intervals: 6,
      atLeastMin: 60,
      holdMin: 3,
      clearHoldMin: 90,
      on: 1,
    });
    expect(limitsFor(silent, siteSubject, settings)).toMatchObject({ intervals: 6, holdMin: 15 });
    expect(limitsFor(silent, serverSubject, settings)).toMatchObject({ intervals: 5, holdMin: 15 });
    expect(limitsFor(silent, nucSubject, noLimitSettings)).toMatchObject({ intervals: 8, atLeastMin: 180 });
  });

  it('say where they come from', () => {
    const names = ['holdMin', 'intervals', 'atLeastMin', 'clearHoldMin'];
    expect(names.map((name) => originOf(silent, name, channelSubject, settings))).toEqual([
      'nuc',
      'site',
      'farm',
      'standard',
    ]);
  });

  it('can switch a rule off, which ends what it had raised', () => {
    const tick = (limits: typeof settings | typeof noLimitSettings, nowMs: number, alerts = new Map()) =>
      evaluateAll([brokenInput(nowMs)], alerts, nowMs, { limits });
    const raised = tick(noLimitSettings, noon);
    const off = { ...noLimitSettings, farm: { 'broker-away': { on: 0 } } };
    const after = evaluateAll([brokenInput(noon + 1)], raised.alerts, noon + 1, { limits: off });
    expect(raised.effects.map(({ kind }) => kind)).toEqual(['raised']);
    expect(after.effects.map(({ kind }) => kind)).toEqual(['no-longer-applies']);
    expect(after.evaluations.find(({ ruleId }) => ruleId === 'broker-away')?.evaluation.because).toContain(
      'switched off',
    );
  });
});

describe('what may be set', () => {
  it('is what the rules declare, within their bounds', () => {
    expect(readLimits(settings)).toEqual({ limits: settings, faults: [] });
    for (const nothing of [undefined, null, {}])
      expect(readLimits(nothing)).toEqual({ limits: noLimitSettings, faults: [] });
  });

  it.each([
    { what: 'an unknown rule', farm: { nonsense: { intervals: 4 } }, read: {}, problems: [] },
    {
      what: 'an unknown limit',
      farm: { 'sensor-silent': { nonsense: 1 } },
      read: { 'sensor-silent': {} },
      problems: [],
    },
    {
      what: 'one out of bounds',
      farm: { 'sensor-silent': { intervals: 0 } },
      read: { 'sensor-silent': {} },
      problems: ['"intervals" must lie between 2 and 100, and 0 does not'],
    },
    {
      what: 'one that is no number',
      farm: { 'sensor-silent': { intervals: 'four' } },
      read: { 'sensor-silent': {} },
      problems: ['expected a number'],
    },
  ])('$what is not in force', ({ farm, read, problems }) => {
    const { limits, faults } = readLimits({ farm });
    expect(limits).toEqual({ ...noLimitSettings, farm: read });
    expect(faults.map(({ problem }) => problem)).toEqual(problems);
  });

  it.each([
    { ruleId: 'sensor-silent', name: 'intervals', value: 4, problem: null },
    { ruleId: 'sensor-silent', name: 'intervals', value: 2, problem: null },
    { ruleId: 'sensor-silent', name: 'intervals', value: 100, problem: null },
    { ruleId: 'sensor-silent', name: 'intervals', value: 1, problem: 'between 2 and 100' },
    { ruleId: 'sensor-silent', name: 'intervals', value: 101, problem: 'between 2 and 100' },
    { ruleId: 'sensor-silent', name: 'intervals', value: NaN, problem: 'between 2 and 100' },
    { ruleId: 'sensor-silent', name: 'toString', value: 4, problem: 'no limit "toString"' },
    { ruleId: 'nonsense', name: 'intervals', value: 4, problem: 'no rule "nonsense"' },
  ])('$ruleId $name $value', ({ ruleId, name, value, problem }) => {
    const found = problemWithLimit(rules, ruleId, name, value);
    if (problem === null) expect(found).toBeNull();
    else expect(found).toContain(problem);
  });

  it.each(rules.map((rule) => [rule.id, rule] as const))(
    '%s has standards within its bounds, in words',
    (_id, rule) => {
      for (const { standard, min, max, about } of Object.values(adjustable(rule))) {
        expect(standard).toBeGreaterThanOrEqual(min);
        expect(standard).toBeLessThanOrEqual(max);
        expect(about.length).toBeGreaterThan(8);
      }
      expect(rule.sources.length).toBeGreaterThan(0);
      expect(rule.id).toMatch(/^[a-z]+(-[a-z]+)*$/);
    },
  );

  it('leaves each rule to its own kind of subject', () => {
    for (const rule of rules) {
      const wrong = rule.on === 'nuc' ? brokenInput(noon) : nucInput();
      expect(rule.evaluate(wrong, {}).verdict).toBe('not-applicable');
    }
  });
});

describe('limits as they lie in the store', () => {
  const good = { 'sensor-silent': { intervals: 5 } };
  it.each([
    { what: 'a text', stored: 'limits', path: [], text: '"limits"' },
    { what: 'a list', stored: [good], path: [], text: JSON.stringify([good]) },
    { what: 'a layer that is a number', stored: { farm: 5 }, path: ['farm'], text: '5' },
    { what: 'a nuc that is nothing', stored: { nucs: { n1: null } }, path: ['nucs', 'n1'], text: 'null' },
    {
      what: 'a rule that is a list',
      stored: { farm: { 'sensor-silent': [5] } },
      path: ['farm', 'sensor-silent'],
      text: '[5]',
    },
  ])('$what is a fault with its place', ({ stored, path, text }) => {
    expect(readLimits(stored).faults).toEqual([{ path, problem: 'expected an object', text }]);
  });

  it('stay in force beside one that can’t be read', () => {
    const { limits, faults } = readLimits({ farm: good, sites: 7 });
    expect(limits).toEqual({ ...noLimitSettings, farm: good });
    expect(faults).toHaveLength(1);
  });

  const path = ['nucs', 'n1', 'sensor-silent', 'intervals'];
  it.each([
    {
      what: 'set where nothing is',
      stored: undefined,
      value: 6,
      after: { nucs: { n1: { 'sensor-silent': { intervals: 6 } } } },
    },
    {
      what: 'set over what can’t be read',
      stored: { nucs: 7 },
      value: 6,
      after: { nucs: { n1: { 'sensor-silent': { intervals: 6 } } } },
    },
    {
      what: 'changed beside others',
      stored: { farm: good, nucs: { n1: { 'sensor-silent': { intervals: 5, holdMin: 'odd' } }, n2: good } },
      value: 6,
      after: { farm: good, nucs: { n1: { 'sensor-silent': { intervals: 6, holdMin: 'odd' } }, n2: good } },
    },
    {
      what: 'taken away beside others',
      stored: { nucs: { n1: { 'sensor-silent': { intervals: 5, holdMin: 3 } } } },
      value: null,
      after: { nucs: { n1: { 'sensor-silent': { holdMin: 3 } } } },
    },
  ])('are $what', ({ stored, value, after }) => {
    expect(storedWithLimit(stored, path, value)).toEqual(after);
  });
});
