/** The caution about the dark stands only beside what may be done in it. */
import { expect, it } from 'vitest';
import { mayBeDoneByNight } from '../../dashboard/alerts/by-night.ts';

const zone = 'Europe/Berlin';
/** A day in May, two hours ahead of UTC. */
const clock = (hour: number, minute = 0): number => Date.UTC(2027, 4, 14, hour - 2, minute);
const nuc = { kind: 'nuc' as const, id: 'n1', name: 'Nuc 1', nucIds: ['n1'] };
const cold = { urgency: 'now', subject: nuc, ruleId: 'brood-chilling' } as const;

it.each([
  { name: 'at noon', alert: cold, nowMs: clock(12), shown: false },
  { name: 'as the evening begins', alert: cold, nowMs: clock(19), shown: true },
  { name: 'before midnight', alert: cold, nowMs: clock(23, 30), shown: true },
  { name: 'before dawn', alert: cold, nowMs: clock(5, 59), shown: true },
  { name: 'in the morning', alert: cold, nowMs: clock(6), shown: false },
  {
    name: 'at noon, of robbers: it is moved at dusk',
    alert: { ...cold, ruleId: 'being-robbed' },
    nowMs: clock(12),
    shown: true,
  },
  {
    name: 'at night, of what can wait until the day',
    alert: { ...cold, urgency: 'today' } as const,
    nowMs: clock(23),
    shown: false,
  },
  {
    name: 'at night, of what stands in the house',
    alert: { ...cold, subject: { ...nuc, kind: 'server' as const } } as const,
    nowMs: clock(23),
    shown: false,
  },
])('$name: $shown', ({ alert, nowMs, shown }) => {
  expect(mayBeDoneByNight(alert, zone, nowMs)).toBe(shown);
});
