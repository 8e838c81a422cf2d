/** The chart of an open alert goes as far as its words: those say this minute's figure. */
import { expect, it } from 'vitest';
import type { AlertState, Episode } from '../../server/rules/engine/alert-state.ts';
import type { RuleEvaluation } from '../../server/rules/engine/evaluate.ts';
import type { AlertMessage, Evidence } from '../../server/rules/engine/types.ts';
import { alertToWire, type AlertReader } from '../../server/views/alerts/alert-view.ts';
import { degC, say } from '../../server/words/phrase.ts';

const hour = 3_600_000;
const message = (celsius: number): AlertMessage => ({
  todo: say`Warm it.`,
  seen: say`Brood at ${degC(celsius)}.`,
  why: say`Why.`,
  howSure: say`Sure.`,
  facts: [],
});
const until = (toMs: number): Evidence => ({ place: 'brood', fromMs: 0, toMs });
const subject = { kind: 'nuc', id: 'n1', name: 'Nuc 1' } as const;
const episode: Episode = {
  id: 'e1',
  sinceMs: 0,
  raisedAtMs: hour,
  urgency: 'now',
  message: message(31),
  evidence: until(hour),
  seen: null,
  putOffUntilMs: null,
  marks: [],
};
const alert = { key: 'k', ruleId: 'brood-chilling', subject, at: { phase: 'raised', episode } } as AlertState;

function shownUntil(evaluation: object | undefined): number | undefined {
  let shown: Evidence | undefined;
  const reader: AlertReader = {
    displayOf: () => ({ timeZone: 'UTC', temperature: 'C', weight: 'kg' }),
    evidence: (_subject, evidence) => {
      shown = evidence;
      return null;
    },
    explains: () => [],
    explainedBy: () => null,
    evaluationOf: () => (evaluation ? ({ evaluation } as unknown as RuleEvaluation) : undefined),
  };
  alertToWire(alert, reader);
  return shown?.toMs;
}

it.each([
  [
    'its rule finds it still',
    { verdict: 'yes', message: message(27), evidence: until(20 * hour) },
    20 * hour,
  ],
  ['its rule finds nothing any more', { verdict: 'no' }, hour],
  ['its rule was not evaluated yet', undefined, hour],
])('where %s', (_, evaluation, toMs) => {
  expect(shownUntil(evaluation)).toBe(toMs);
});
