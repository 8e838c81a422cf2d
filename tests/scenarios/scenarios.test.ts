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
  const nuc = { splitMs, truth: { events: [{ atMs, kind: 'toppled' as const }], chill: [] } };
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

  it('wants of what comes again an alert each time, and a foretelling only before what came', () => {
    const cold = (fromH: number, toH: number) => ({
      what: 'brood' as const,
      ...{ fromMs: splitMs + fromH * hourMs, toMs: splitMs + toH * hourMs },
    });
    const weak = { splitMs, truth: { events: [], chill: [cold(100, 104), cold(105, 108), cold(130, 133)] } };
    const at = (rule: string, hour: number) => told(rule, hour - 80);
    const problems = (raised: readonly RaisedAlert[]) =>
      judge(caseOf('cold-snap'), weak as never, raised).rows.flatMap(({ problem }) => problem ?? []);
    const both = [at('brood-chilling', 101), at('brood-chilling', 131)];
    expect(problems([at('chilling-ahead', 98), ...both])).toEqual([]);
    expect(problems(both.slice(1))).toEqual(['not raised for day 4.17']);
    // One that still stands is not raised anew; one that is over has to be.
    const first = at('brood-chilling', 101);
    expect(problems([first])).toEqual([]);
    expect(problems([{ ...first, endedAtMs: splitMs + 128 * hourMs }])).toEqual(['not raised for day 5.42']);
    expect(problems([...both, at('brood-chilling', 180)])).toEqual([
      'not expected: brood-chilling (now) on day 7.50; raised 3 times',
    ]);
    expect(problems([at('chilling-ahead', 60), ...both])).toEqual(['not expected: as told']);
  });

  it('claims nothing of what was too short to be seen', () => {
    const lifted = (minutes: number) => ({
      splitMs,
      truth: { events: [{ atMs, untilMs: atMs + minutes * 60_000, kind: 'lifted' as const }], chill: [] },
    });
    expect(judge(caseOf('lifted'), lifted(4), []).rows).toEqual([]);
    expect(judge(caseOf('lifted'), lifted(10), []).rows[0]?.problem).toBe('not raised');
  });

  it('says so when the simulation had no such trouble', () => {
    const calm = { splitMs, truth: { events: [], chill: [] } };
    expect(judge(toppled, calm, []).rows[0]?.problem).toBe('the simulation had no “toppled”');
  });
});
