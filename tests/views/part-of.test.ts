/** One trouble is one card: what was told before is shown within what explains it now. */
import { expect, it } from 'vitest';
import { partOf } from '../../server/views/alerts/part-of.ts';
import { quietAlert, type AlertState } from '../../server/rules/engine/alert-state.ts';
import { alertKey } from '../../server/rules/engine/evaluate.ts';
import { stepAlert } from '../../server/rules/engine/life-cycle.ts';
import type { Subject } from '../../server/rules/engine/types.ts';
import { topLevelAlerts } from '../../dashboard/alerts/top-level-alerts.ts';
import type { AlertDto } from '../../server/contract/alerts.ts';

const nowMs = Date.UTC(2026, 4, 12, 6);
const nuc = (id: string): Subject => ({ kind: 'nuc', id, name: id, siteId: 'hill' });
const say = { text: ['x'], values: [] } as never;

function raised(ruleId: string, subject: Subject): AlertState {
  const { alert } = stepAlert(quietAlert(alertKey(ruleId, subject), ruleId, subject), {
    type: 'tick',
    nowMs,
    verdict: 'yes',
    clear: false,
    holdMs: 0,
    clearHoldMs: 3_600_000,
    closedStandsMs: 0,
    urgency: 'now',
    message: { todo: say, seen: say, why: say, howSure: say, facts: [] },
  });
  return alert;
}

const asked = (...alerts: AlertState[]): (string | null)[] => {
  const ask = partOf(new Map(alerts.map((alert) => [alert.key, alert])), nowMs);
  return alerts.map((alert) => {
    const whole = ask(alert);
    return alerts.find(({ at }) => 'episode' in at && at.episode === whole)?.ruleId ?? null;
  });
};

it('takes the warning of the evening into the chilling that came of it, on the same nuc alone', () => {
  const tonight = raised('chilling-tonight', nuc('a'));
  expect(asked(tonight, raised('brood-chilling', nuc('a')))).toEqual(['brood-chilling', null]);
  expect(asked(tonight, raised('brood-chilling', nuc('b')))).toEqual([null, null]);
});

it('keeps two that stand for each other both in sight', () => {
  expect(asked(raised('chilling-tonight', nuc('a')), raised('chilling-ahead', nuc('a')))).toEqual([
    null,
    null,
  ]);
});

it('follows what is over no longer', () => {
  const tonight = raised('chilling-tonight', nuc('a'));
  const chilling = raised('brood-chilling', nuc('a'));
  const closed = stepAlert(chilling, { type: 'close', nowMs, by: 'k', found: 'bees cover it' }).alert;
  expect(asked(tonight, closed)).toEqual([null, null]);
});

it('leaves on the page what has nothing to be shown within', () => {
  const one = (id: string, explainedBy: string | null) => ({ id, explainedBy }) as AlertDto;
  const ids = (...alerts: AlertDto[]): string[] => topLevelAlerts(alerts).map(({ id }) => id);
  expect(ids(one('tonight', 'chilling'), one('chilling', null))).toEqual(['chilling']);
  expect(ids(one('tonight', 'chilling'))).toEqual(['tonight']);
});
