/** A fit that moves a little about the end of the drift takes nothing back that was told. */
import { expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import type { ForagerDrift } from '../../server/signals/types.ts';
import { estimate, hour, noon, nucInput, signals, step } from './made-up.ts';

type Stretch = readonly [hours: number, state: ForagerDrift['state'], share: number];

/** What is told over stretches of hours in which the fit stays where it is; a cut is planned 20 h after the beginning. */
function told(...stretches: readonly Stretch[]): string[] {
  let alerts: Alerts = new Map<string, AlertState>();
  let nowMs = noon;
  const words: string[] = [];
  for (const [hours, state, share] of stretches) {
    const endMs = nowMs + hours * hour;
    for (; nowMs < endMs; nowMs += hour / 2) {
      const drift = { ...signals().drift, state, completeness: estimate(share, share - 0.1, 1) };
      const plan = [step({ targetMs: noon + 20 * hour, latestMs: noon + 44 * hour })];
      const looked = evaluateAll([nucInput({ signals: signals({ drift }), plan, nowMs })], alerts, nowMs);
      alerts = looked.alerts;
      for (const { kind, ruleId } of looked.effects)
        if (ruleId.startsWith('foragers-')) words.push(`${ruleId} ${kind}`);
    }
  }
  return words;
}

it('gone stays gone while the fit wavers, and is not followed by still leaving', () => {
  expect(told([3, 'gone', 0.96], [12, 'nearly-gone', 0.94])).toEqual(['foragers-gone raised']);
});
it('still leaving ends with gone, not with nearly gone', () => {
  const leaving = ['foragers-leaving raised'];
  expect(told([3, 'leaving', 0.88], [3, 'nearly-gone', 0.901], [3, 'leaving', 0.899])).toEqual(leaving);
  expect(told([3, 'leaving', 0.88], [2, 'nearly-gone', 0.93], [3, 'gone', 0.951])).toEqual([
    ...leaving,
    'foragers-gone raised',
    'foragers-leaving cleared',
  ]);
});
it('a fit that falls clearly is told', () => {
  expect(told([3, 'gone', 0.98], [3, 'leaving', 0.8])).toContain('foragers-leaving raised');
});
