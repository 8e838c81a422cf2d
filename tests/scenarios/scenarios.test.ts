/** How a scenario is judged; `cold-night.long.test.ts` runs one, `scenarios.long.test.ts` more, `npm run scenarios` all. */
import { describe, expect, it } from 'vitest';
import { scenarioNames } from '../../simulator/index.ts';
import { scenarioCases } from './expectations.ts';
import { judge } from './judge.ts';
import type { RaisedAlert } from './run-scenario.ts';

const hourMs = 3_600_000;
const splitMs = Date.UTC(2026, 4, 12, 8);
const caseOf = (name: string) => scenarioCases.find(({ scenario }) => scenario === name)!;

it('the table has each scenario of the simulator once', () => {
  expect(scenarioCases.map(({ scenario }) => scenario)).toEqual(scenarioNames);
});

describe('the judge', () => {
  const toppled = caseOf('toppled');
  const atMs = splitMs + 80 * hourMs;
  const nuc = {
    splitMs,
    truth: { events: [{ atMs, kind: 'toppled' as const }], chill: [], close: [], sure: [] },
  };
  const told = (ruleId: string, afterH: number, urgency = 'now'): RaisedAlert => ({
    ruleId,
    urgency,
    subject: 'nuc',
    raisedAtMs: atMs + afterH * hourMs,
    endedAtMs: null,
    seen: 'as told',
  });
  const due = (day: number): RaisedAlert => told('visit-due', day * 24 - 80, 'today');
  it.each<readonly [string, readonly RaisedAlert[], readonly (string | null)[]]>([
    ['takes the alert in time', [told('box-toppled', 1)], [null]],
    ['takes what is due with it', [told('box-toppled', 1), due(6.5)], [null]],
    ['misses an alert that did not come', [], ['not raised']],
    ['counts', [told('box-toppled', 1), told('box-toppled', 1.5)], ['raised 2 times']],
    ['reads the urgency', [told('box-toppled', 1, 'today')], ['told as today']],
    ['reads the time', [told('box-toppled', 5)], ['at the wrong time']],
    ['wants nothing else', [told('box-toppled', 1), told('box-gone', 1)], [null, 'not expected: as told']],
    [
      'lets come what is due only when it is due',
      [told('box-toppled', 1), due(3.5)],
      [null, 'not expected: as told'],
    ],
    ['lets it come once', [told('box-toppled', 1), due(6.5), due(6.6)], [null, 'not expected: as told']],
  ])('%s', (_words, raised, problems) => {
    expect(judge(toppled, nuc, raised).rows.map(({ problem }) => problem)).toEqual(problems);
  });

  describe('of cold', () => {
    /** Under the limit from one hour after the split to another, so many °C·h an hour. */
    const cold = (fromH: number, toH: number, khPerH: number) => {
      const degreeHours = (toH - fromH) * khPerH;
      const passedMs = Array.from({ length: Math.min(12, Math.floor(degreeHours)) }, (_, i) =>
        Math.round(splitMs + (fromH + (i + 1) / khPerH) * hourMs),
      );
      const [fromMs, toMs] = [splitMs + fromH * hourMs, splitMs + toH * hourMs];
      return { what: 'brood' as const, limitC: 32, lowestC: 30, fromMs, toMs, degreeHours, passedMs };
    };
    const problems = (chill: readonly ReturnType<typeof cold>[], raised: readonly RaisedAlert[]) =>
      judge(
        caseOf('cold-snap'),
        { splitMs, truth: { events: [], chill, close: chill, sure: chill } },
        raised,
      ).rows.flatMap(({ problem }) => problem ?? []);
    const at = (rule: string, hour: number, urgency = 'now') => told(rule, hour - 80, urgency);
    // Harm after four hours: to be told an hour later.
    const night = cold(100, 110, 1);
    const next = cold(130, 140, 1);

    it('wants an alert by the time that it does harm, each time, and a foretelling only before it', () => {
      const both = [at('brood-chilling', 104.5), at('brood-chilling', 135)];
      expect(problems([night, next], [at('chilling-ahead', 98), ...both])).toEqual([]);
      expect(problems([night, next], both.slice(1))).toEqual(['not raised']);
      expect(problems([night], [at('brood-chilling', 105.5)])).toEqual(['0.5 h late']);
      expect(problems([night], [at('brood-chilling', 104), at('brood-chilling', 180)])).toEqual([
        'not expected: as told',
      ]);
      expect(problems([night], [at('brood-chilling', 104), at('brood-chilling', 109)])).toEqual([
        'told again within a day',
      ]);
      expect(problems([night], [at('chilling-ahead', 60), at('brood-chilling', 104)])).toEqual([
        'not expected: as told',
      ]);
    });

    it('wants none anew where one still stands', () => {
      const first = at('brood-chilling', 105);
      expect(problems([night, next], [first])).toEqual([]);
      expect(problems([night, next], [{ ...first, endedAtMs: splitMs + 128 * hourMs }])).toEqual([
        'not raised',
      ]);
    });

    it('claims nothing of cold that does no harm, and wants the worst told as pressing', () => {
      expect(problems([cold(100, 103.5, 1)], [])).toEqual([]);
      expect(problems([cold(100, 105.5, 1)], [at('brood-chilling', 104, 'today')])).toEqual([]);
      expect(problems([night], [at('brood-chilling', 104, 'today')])).toEqual(['told as today']);
    });

    it('adds up what a short warm hour parts', () => {
      expect(problems([cold(100, 103, 1), cold(104, 106, 1)], [])).toEqual(['not raised']);
      expect(problems([cold(100, 103, 1), cold(106, 108, 1)], [])).toEqual([]);
    });
  });

  it('takes another alert for what was too fast to be told from it', () => {
    const gone = (minutes: number) => ({
      splitMs,
      silences: [],
      truth: {
        events: [{ atMs, untilMs: atMs + minutes * 60_000, kind: 'absconded' as const }],
        chill: [],
        close: [],
        sure: [],
      },
    });
    const [one] = caseOf('absconded').expected;
    const orElse = { rule: 'disturbed-in-hands-off', urgency: 'today', mostMinutes: 15 } as const;
    const fast = { ...caseOf('absconded'), expected: [{ ...one!, orElse }] };
    const problems = (minutes: number, ...raised: readonly RaisedAlert[]) =>
      judge(fast, gone(minutes), raised).rows.flatMap(({ problem }) => problem ?? []);
    const loss = told('disturbed-in-hands-off', 1, 'today');
    expect(problems(10, loss)).toEqual([]);
    expect(problems(10)).toEqual(['not raised']);
    expect(problems(10, told('disturbed-in-hands-off', 5, 'today'))).toEqual(['at the wrong time']);
    expect(problems(20, loss)).toEqual(['not raised', 'not expected: as told']);
    expect(problems(20, told('left-in-a-mass', 1))).toEqual([]);
  });

  it('claims nothing of what was too short to be seen', () => {
    const lifted = (minutes: number) => ({
      splitMs,
      truth: {
        events: [{ atMs, untilMs: atMs + minutes * 60_000, kind: 'lifted' as const }],
        chill: [],
        close: [],
        sure: [],
      },
    });
    expect(judge(caseOf('lifted'), lifted(4), []).rows).toEqual([]);
    expect(judge(caseOf('lifted'), lifted(10), []).rows[0]?.problem).toBe('not raised');
  });

  it('expects that a line which was down for hours is told, once', () => {
    const down = { ...nuc, silences: [{ fromMs: atMs - 6 * hourMs, toMs: atMs - 2 * hourMs }] };
    const silent = (afterH: number) => told('sensor-silent', afterH, 'today');
    const problems = (...raised: readonly RaisedAlert[]) =>
      judge(toppled, down, [told('box-toppled', 1), ...raised]).rows.flatMap(({ problem }) => problem ?? []);
    expect(problems(silent(-2.5))).toEqual([]);
    expect(problems(silent(-2.5), silent(-2.2))).toEqual(['not expected: as told']);
    expect(problems(silent(-5))).toEqual(['not expected: as told']);
    expect(problems(silent(3))).toEqual(['not expected: as told']);
  });

  it('says so when the simulation had no such trouble', () => {
    const calm = { splitMs, truth: { events: [], chill: [], close: [], sure: [] } };
    expect(judge(toppled, calm, []).rows[0]?.problem).toBe('the simulation had no “toppled”');
  });
});
