/**
 * What brood should be in the nuc on a day: of the old queen the last larvae are sealed by day 9 and the last bees out by
 * day 21 (Mussen et al. 1987). A new queen's eggs are reckoned with four days after her release
 * (assumed, in `biology/`).
 */
import { expect, it } from 'vitest';
import type { ExpectedBrood } from '../../server/introduction/brood/brood-now.ts';
import { course, dead, eggs, flownOff, missed, out } from './support/after-release.ts';
import { frame, split, type Entries } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';

const lateOut: Entries = [...course.slice(0, 2), [at(24), facts.hung()], [at(25), facts.opened()]];
const laid: Entries = [...out, eggs(17)];
const died: Entries = [...laid, dead(20)];

it.each<{ name: string; log: Entries; now: number; is: ExpectedBrood; untilDay: number | null }>([
  { name: 'the day after the split', log: [split], now: at(1), is: 'open-brood', untilDay: 9 },
  { name: 'until nine days after it', log: [split], now: at(9, 9), is: 'open-brood', untilDay: 9 },
  { name: 'all sealed', log: [split], now: at(9), is: 'sealed-brood', untilDay: 21 },
  { name: 'the last of it', log: [split], now: at(21, 9), is: 'sealed-brood', untilDay: 21 },
  { name: 'all emerged', log: [split], now: at(21), is: 'broodless', untilDay: null },
  { name: 'she hangs in her cage', log: [...course], now: at(23), is: 'broodless', untilDay: null },
  {
    name: 'let out on day 25, and too soon for eggs',
    log: lateOut,
    now: at(25, 12),
    is: 'broodless',
    untilDay: 29,
  },
  {
    name: 'let out on day 25: nobody looked, and she should lay',
    log: lateOut,
    now: at(29),
    is: 'new-brood-expected',
    untilDay: 38,
  },
  {
    name: 'the old brood is still sealed when she should lay',
    log: out,
    now: at(20),
    is: 'sealed-brood',
    untilDay: 21,
  },
  { name: 'her eggs were seen', log: laid, now: at(18), is: 'open-brood', untilDay: null },
  { name: 'and weeks later', log: laid, now: at(60), is: 'open-brood', untilDay: null },
  {
    name: 'she died on day 20: her last larvae',
    log: died,
    now: at(21),
    is: 'open-brood',
    untilDay: 29,
  },
  { name: 'her last brood is sealed', log: died, now: at(30), is: 'sealed-brood', untilDay: 41 },
  { name: 'her last bees have emerged', log: died, now: at(41), is: 'broodless', untilDay: null },
  {
    name: 'she flew off after she laid',
    log: [...laid, flownOff(20)],
    now: at(42),
    is: 'broodless',
    untilDay: null,
  },
  {
    name: 'let out on day 25 and dead',
    log: [...lateOut, dead(26)],
    now: at(30),
    is: 'broodless',
    untilDay: null,
  },
  {
    name: 'let out on day 25, not found, and cells stood on a test frame: she is gone',
    log: [...lateOut, missed(32), missed(36), ...frame(36, 38, 3)],
    now: at(70),
    is: 'broodless',
    untilDay: null,
  },
  {
    name: 'nobody saw the old queen, and nothing dates her last egg',
    log: [[at(0), facts.split({ oldQueen: 'not-seen' })]],
    now: at(5),
    is: 'unknown',
    untilDay: null,
  },
])('$name: $is', ({ log, now, is, untilDay }) => {
  const { brood, untilMs } = stateAt(log, now).broodNow;
  expect([brood, untilMs === null ? null : Math.round((untilMs - at(0)) / 86_400_000)]).toEqual([
    is,
    untilDay,
  ]);
});
