import { facts } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';
import { at } from '../support/field-log.ts';

/** Cells cut on day 7 with the cage hung, nothing left on day 10. */
const usual: CaseHistory['log'] = [
  [0, 10, facts.split()],
  [7, 10, facts.cut({ sealed: 8, open: 1 })],
  [7, 10.5, facts.hung()],
  [10, 10, facts.cut()],
];

export const usualCourses: readonly CaseHistory[] = [
  {
    name: 'everything on its day',
    log: usual,
    gates: [
      { at: [3, 10], gate: 'cut-cells', answer: 'wait', untilDay: 7 },
      { at: [7, 8], gate: 'cut-cells', answer: 'go' },
      { at: [7, 12], gate: 'open-candy', answer: 'wait', untilDay: 10 },
      { at: [10, 10.5], gate: 'open-candy', answer: 'go' },
    ],
    plan: {
      at: [1, 9],
      days: { 'cut-cells': 7, 'hang-cage': 7, 'second-look': 10, 'open-candy': 10, 'look-for-queen': 17 },
    },
  },
  {
    name: 'queen four days early: hung at once, opened no sooner',
    log: [
      [0, 10, facts.split()],
      [3, 9, facts.arrived()],
      [3, 10, facts.hung()],
      [7, 10, facts.cut({ sealed: 6 })],
      [10, 10, facts.cut()],
    ],
    setup: { expectedQueenMs: at(7) },
    gates: [
      { at: [3, 9.5], gate: 'hang-cage', answer: 'go' },
      { at: [4, 10], gate: 'open-candy', answer: 'wait', untilDay: 10 },
      { at: [7, 12], gate: 'open-candy', answer: 'wait', untilDay: 10 },
      { at: [10, 11], gate: 'open-candy', answer: 'go' },
    ],
    plan: { at: [3, 11], days: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 } },
  },
  {
    name: 'queen ten days late: the nuc waits, and is watched for laying workers',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 9 })],
      [10, 10, facts.cut()],
      [17, 9, facts.arrived()],
      [17, 10, facts.hung()],
      [18, 9, facts.atCage()],
    ],
    gates: [
      { at: [12, 10], gate: 'open-candy', answer: 'wait', says: 'No queen' },
      { at: [17, 12], gate: 'open-candy', answer: 'wait', untilDay: 18 },
      { at: [18, 11], gate: 'open-candy', answer: 'go' },
    ],
    stage: [{ at: [12, 10], stage: 'waiting-for-queen' }],
    plan: { at: [17, 11], days: { 'open-candy': 18, 'look-for-queen': 25 } },
  },
  {
    name: 'queen three weeks late: look for laying workers first',
    log: [
      ...usual.filter(([, , fact]) => fact.kind !== 'cage-hung'),
      [22, 9, facts.hung()],
      [23, 9, facts.atCage()],
      [23, 12, facts.inspection({ youngestBrood: 'none' })],
    ],
    gates: [
      { at: [23, 10], gate: 'open-candy', answer: 'wait', says: 'laying workers' },
      { at: [23, 13], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'cells found on day 10: one more look, and then go',
    log: [...usual.slice(0, 3), [10, 10, facts.cut({ sealed: 2 })], [11, 10, facts.cut()]],
    gates: [
      { at: [10, 11], gate: 'open-candy', answer: 'wait', says: 'One more look', untilDay: 11 },
      { at: [11, 11], gate: 'open-candy', answer: 'go' },
    ],
    plan: { at: [10, 11], days: { 'one-more-look': 11, 'open-candy': 11 } },
  },
  {
    name: 'the morning of day 7 is day 7, after an evening split',
    log: [
      [0, 19, facts.split()],
      [7, 8, facts.cut({ sealed: 5 })],
      [7, 8.5, facts.hung()],
      [10, 8, facts.cut()],
    ],
    gates: [
      { at: [7, 7.5], gate: 'cut-cells', answer: 'go' },
      { at: [10, 9], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'a laying queen of one’s own needs the cells cut, not the larvae gone',
    setup: { startingPoint: 'own-laying-queen' },
    log: [
      [0, 10, facts.split()],
      [2, 9, facts.hung()],
      [2, 10, facts.cut({ open: 4 })],
    ],
    gates: [
      { at: [2, 9.5], gate: 'open-candy', answer: 'wait', says: 'Cut the cells' },
      { at: [2, 11], gate: 'open-candy', answer: 'go' },
      { at: [3, 11], gate: 'open-candy', answer: 'wait', says: 'Cut the cells' },
    ],
  },
  {
    name: 'a cage of mesh stays on for days among emerging brood',
    setup: { method: 'push-in-cage' },
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 6 })],
      [9, 10, facts.hung()],
      [10, 10, facts.cut()],
    ],
    gates: [
      { at: [10, 11], gate: 'open-candy', answer: 'wait', says: 'mesh', untilDay: 12 },
      { at: [12, 11], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'hands off: never before three full days, a week is better',
    log: [...usual, [10, 11, facts.opened()]],
    gates: [
      { at: [11, 10], gate: 'look-for-queen', answer: 'stop', untilDay: 13 },
      { at: [13, 10], gate: 'look-for-queen', answer: 'stop', untilDay: 13 },
      { at: [13, 12], gate: 'look-for-queen', answer: 'wait', untilDay: 17 },
      { at: [17, 9], gate: 'look-for-queen', answer: 'go' },
      { at: [12, 9], gate: 'cut-cells', answer: 'wait', says: 'Hands off' },
    ],
    stage: [
      { at: [11, 12], stage: 'candy-open' },
      { at: [15, 12], stage: 'hands-off' },
      { at: [18, 12], stage: 'check-due' },
    ],
  },
  {
    name: 'accepted: eggs on day 17, her sealed brood ten days later',
    log: [...usual, [10, 11, facts.opened()], [17, 10, facts.looked()]],
    gates: [{ at: [18, 10], gate: 'hang-cage', answer: 'stop', says: 'loose' }],
    stage: [{ at: [18, 10], stage: 'accepted' }],
    plan: { at: [18, 10], days: { 'check-sealed-brood': 27 } },
  },
];
