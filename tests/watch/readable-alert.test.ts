/** Alerts as the store keeps them, read as the rules work with them. */
import { expect, it } from 'vitest';
import { currentAlerts } from '../../server/watch/readable-alert.ts';
import type { StoredAlert } from '../../server/store/alerts.ts';

const nobody = { note: () => undefined, list: () => [] };
const subject = { kind: 'nuc', id: 'n1' } as const;
const holding = { phase: 'holding', sinceMs: 1_000 };

/** A row as a database holds it. */
const row = (at: object): StoredAlert => ({
  id: 'brood-chilling n1',
  ruleId: 'brood-chilling',
  subject,
  phase: 'holding',
  urgency: 'now',
  open: false,
  changedAtMs: 1_000,
  state: { key: 'brood-chilling n1', ruleId: 'brood-chilling', subject, at },
  message: null,
});

const read = (at: object) => currentAlerts([row(at)], nobody)[0]?.at;

it('takes the unobserved time of an alert over from version 0.1, where it had another name', () => {
  expect(read({ ...holding, awayMs: 600 })).toEqual({ ...holding, unobservedMs: 600 });
  expect(read({ phase: 'no-data', noDataSinceMs: 2_000, paused: { ...holding, awayMs: 600 } })).toEqual({
    phase: 'no-data',
    noDataSinceMs: 2_000,
    paused: { ...holding, unobservedMs: 600 },
  });
});

it('reads what it keeps now', () => {
  expect(read({ ...holding, unobservedMs: 600 })).toEqual({ ...holding, unobservedMs: 600 });
});
