import { facts } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';
import { at } from '../support/field-log.ts';

/** Cells cut on day 7 with the cage hung, nothing left on day 10. */
const usual: CaseHistory['log'] = [
  { day: 0, hour: 10, fact: facts.split() },
  { day: 7, hour: 10, fact: facts.cut({ sealed: 8, open: 1 }) },
  { day: 7, hour: 10.5, fact: facts.hung() },
  { day: 10, hour: 10, fact: facts.cut() },
];

export const usualCourses: readonly CaseHistory[] = [
  {
    name: 'everything on its day',
    log: usual,
    gates: [
      { day: 3, hour: 10, gate: 'cut-cells', answer: 'wait', untilDay: 7 },
      { day: 7, hour: 8, gate: 'cut-cells', answer: 'go' },
      { day: 7, hour: 12, gate: 'open-candy', answer: 'wait', untilDay: 10 },
      { day: 10, hour: 10.5, gate: 'open-candy', answer: 'go' },
    ],
    plan: {
      day: 1,
      hour: 9,
      days: { 'cut-cells': 7, 'hang-cage': 7, 'second-look': 10, 'open-candy': 10, 'look-for-queen': 17 },
    },
  },
  {
    name: 'queen four days early: hung at once, opened no sooner',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 3, hour: 9, fact: facts.arrived() },
      { day: 3, hour: 10, fact: facts.hung() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 6 }) },
      { day: 10, hour: 10, fact: facts.cut() },
    ],
    setup: { expectedQueenMs: at(7) },
    gates: [
      { day: 3, hour: 9.5, gate: 'hang-cage', answer: 'go' },
      { day: 4, hour: 10, gate: 'open-candy', answer: 'wait', untilDay: 10 },
      { day: 7, hour: 12, gate: 'open-candy', answer: 'wait', untilDay: 10 },
      { day: 10, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
    plan: { day: 3, hour: 11, days: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 } },
  },
  {
    name: 'queen ten days late: the nuc waits, and is watched for laying workers',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 9 }) },
      { day: 10, hour: 10, fact: facts.cut() },
      { day: 17, hour: 9, fact: facts.arrived() },
      { day: 17, hour: 10, fact: facts.hung() },
      { day: 18, hour: 9, fact: facts.atCage() },
    ],
    gates: [
      { day: 12, hour: 10, gate: 'open-candy', answer: 'wait', says: 'No queen' },
      { day: 17, hour: 12, gate: 'open-candy', answer: 'wait', untilDay: 18 },
      { day: 18, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
    stage: [{ day: 12, hour: 10, stage: 'waiting-for-queen' }],
    plan: { day: 17, hour: 11, days: { 'open-candy': 18, 'look-for-queen': 25 } },
  },
  {
    name: 'queen three weeks late: look for laying workers first',
    log: [
      ...usual.filter(({ fact }) => fact.kind !== 'cage-hung'),
      { day: 22, hour: 9, fact: facts.hung() },
      { day: 23, hour: 9, fact: facts.atCage() },
      { day: 23, hour: 12, fact: facts.inspection({ youngestBrood: 'none' }) },
    ],
    gates: [
      { day: 23, hour: 10, gate: 'open-candy', answer: 'wait', says: 'laying workers' },
      { day: 23, hour: 13, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'cells found on day 10: one more look, and then go',
    log: [
      ...usual.slice(0, 3),
      { day: 10, hour: 10, fact: facts.cut({ sealed: 2 }) },
      { day: 11, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'wait', says: 'One more look', untilDay: 11 },
      { day: 11, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
    plan: { day: 10, hour: 11, days: { 'one-more-look': 11, 'open-candy': 11 } },
  },
  {
    name: 'the morning of day 7 is day 7, after an evening split',
    log: [
      { day: 0, hour: 19, fact: facts.split() },
      { day: 7, hour: 8, fact: facts.cut({ sealed: 5 }) },
      { day: 7, hour: 8.5, fact: facts.hung() },
      { day: 10, hour: 8, fact: facts.cut() },
    ],
    gates: [
      { day: 7, hour: 7.5, gate: 'cut-cells', answer: 'go' },
      { day: 10, hour: 9, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'a laying queen of one’s own needs the cells cut, not the larvae gone',
    setup: { startingPoint: 'own-laying-queen' },
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 2, hour: 9, fact: facts.hung() },
      { day: 2, hour: 10, fact: facts.cut({ open: 4 }) },
    ],
    gates: [
      { day: 2, hour: 9.5, gate: 'open-candy', answer: 'wait', says: 'Cut the cells' },
      { day: 2, hour: 11, gate: 'open-candy', answer: 'go' },
      { day: 3, hour: 11, gate: 'open-candy', answer: 'wait', says: 'Cut the cells' },
    ],
  },
  {
    name: 'a cage of mesh stays on for days among emerging brood',
    setup: { method: 'push-in-cage' },
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 6 }) },
      { day: 9, hour: 10, fact: facts.hung() },
      { day: 10, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'wait', says: 'mesh', untilDay: 12 },
      { day: 12, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'hands off: three days through the candy, then three full days, a week is better',
    log: [...usual, { day: 10, hour: 11, fact: facts.opened() }],
    gates: [
      { day: 11, hour: 10, gate: 'look-for-queen', answer: 'stop', untilDay: 16 },
      { day: 16, hour: 10, gate: 'look-for-queen', answer: 'stop', untilDay: 16 },
      { day: 16, hour: 12, gate: 'look-for-queen', answer: 'wait', untilDay: 17 },
      { day: 17, hour: 9, gate: 'look-for-queen', answer: 'go' },
      { day: 12, hour: 9, gate: 'cut-cells', answer: 'wait', says: 'Hands off' },
    ],
    stage: [
      { day: 11, hour: 12, stage: 'candy-open' },
      { day: 15, hour: 12, stage: 'hands-off' },
      { day: 18, hour: 12, stage: 'check-due' },
    ],
  },
  {
    name: 'accepted: eggs on day 17, her sealed brood ten days later',
    log: [...usual, { day: 10, hour: 11, fact: facts.opened() }, { day: 17, hour: 10, fact: facts.looked() }],
    gates: [{ day: 18, hour: 10, gate: 'hang-cage', answer: 'stop', says: 'loose' }],
    stage: [{ day: 18, hour: 10, stage: 'accepted' }],
    plan: { day: 18, hour: 10, days: { 'check-sealed-brood': 27 } },
  },
];
