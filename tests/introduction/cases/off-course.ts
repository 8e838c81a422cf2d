import { facts } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';

/** Dates and finds that are not the usual ones. */
export const offCourse: readonly CaseHistory[] = [
  {
    name: 'cells cut on day 4 only: it can’t be the last cut',
    log: [
      [0, 10, facts.split()],
      [4, 10, facts.cut({ open: 9 })],
      [4, 10.5, facts.hung()],
    ],
    gates: [
      { at: [4, 9], gate: 'cut-cells', answer: 'wait', untilDay: 7 },
      { at: [6, 10], gate: 'open-candy', answer: 'wait' },
      { at: [9, 10], gate: 'open-candy', answer: 'wait', says: 'Cut the cells' },
    ],
    plan: { at: [5, 9], days: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 } },
  },
  {
    name: 'cut on days 4 and 10: a second late look is wanted',
    log: [
      [0, 10, facts.split()],
      [4, 10, facts.cut({ open: 9 })],
      [4, 10.5, facts.hung()],
      [10, 10, facts.cut({ sealed: 1 })],
      [13, 10, facts.cut()],
    ],
    gates: [
      { at: [10, 11], gate: 'open-candy', answer: 'wait', untilDay: 13 },
      { at: [13, 11], gate: 'open-candy', answer: 'go' },
    ],
    plan: { at: [10, 12], days: { 'second-look': 13, 'open-candy': 13 } },
  },
  {
    name: 'first cut on day 10: a virgin may be loose',
    log: [
      [0, 10, facts.split()],
      [10, 10, facts.cut({ sealed: 7 })],
      [10, 10.5, facts.hung()],
      [13, 10, facts.cut()],
    ],
    gates: [
      { at: [10, 9], gate: 'cut-cells', answer: 'go' },
      { at: [13, 11], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' },
    ],
    plan: { at: [13, 12], days: { 'test-frame-in': 14, 'test-frame-out': 16 } },
  },
  {
    name: 'first cut on day 10, then a test frame with cells on it',
    log: [
      [0, 10, facts.split()],
      [10, 10, facts.cut({ sealed: 7 })],
      [10, 10.5, facts.hung()],
      [13, 10, facts.cut()],
      [13, 11, facts.broodAdded({ asTestFrame: true })],
      [15, 10, facts.broodTaken({ cellsOnIt: 4 })],
    ],
    gates: [
      { at: [14, 10], gate: 'open-candy', answer: 'stop' },
      { at: [15, 11], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'first cut on day 10, and no cell on the test frame: a queen may be there',
    log: [
      [0, 10, facts.split()],
      [10, 10, facts.cut({ sealed: 7 })],
      [10, 10.5, facts.hung()],
      [13, 10, facts.cut()],
      [13, 11, facts.broodAdded({ asTestFrame: true })],
      [15, 10, facts.broodTaken({ cellsOnIt: 0 })],
    ],
    gates: [{ at: [15, 11], gate: 'open-candy', answer: 'stop' }],
  },
  {
    name: 'an emerged cell on day 8',
    log: [
      [0, 10, facts.split()],
      [8, 10, facts.cut({ sealed: 5, emerged: 1 })],
      [8, 10.5, facts.hung()],
      [11, 10, facts.cut()],
    ],
    gates: [{ at: [11, 11], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' }],
  },
  {
    name: 'a virgin seen on day 11 and taken away',
    log: [
      [0, 10, facts.split()],
      [8, 10, facts.cut({ sealed: 5 })],
      [8, 10.5, facts.hung()],
      [11, 10, facts.cut({}, { virginSeen: true })],
      [11, 10.2, { kind: 'queen-removed', which: 'virgin' }],
    ],
    gates: [
      { at: [11, 10.1], gate: 'open-candy', answer: 'stop', says: 'virgin is in the box' },
      { at: [11, 18], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'only half of the frames were looked through',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 5 }, { everyFrameChecked: false })],
      [7, 10.5, facts.hung()],
      [10, 10, facts.cut()],
    ],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' }],
  },
  {
    name: 'bees not shaken off on day 10',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 5 })],
      [7, 10.5, facts.hung()],
      [10, 10, facts.cut({}, { beesShakenOff: false })],
    ],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'wait', says: 'Look through every frame again' }],
  },
  {
    name: 'cells were seen on day 9 and left',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 5 })],
      [7, 10.5, facts.hung()],
      [9, 10, facts.inspection({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } })],
      [11, 10, facts.cut({ sealed: 1 })],
      [12, 10, facts.cut()],
    ],
    gates: [
      { at: [9, 11], gate: 'open-candy', answer: 'wait', says: 'Queen cells stand' },
      { at: [11, 11], gate: 'open-candy', answer: 'wait', says: 'One more look' },
      { at: [12, 11], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'a brood frame added on day 8 starts the waiting again',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 8 })],
      [7, 10.5, facts.hung()],
      [8, 10, facts.broodAdded()],
      [10, 10, facts.cut({ open: 2 })],
      [15, 10, facts.cut({ sealed: 2 })],
      [18, 10, facts.cut()],
    ],
    gates: [
      { at: [10, 11], gate: 'open-candy', answer: 'wait', untilDay: 18 },
      { at: [18, 11], gate: 'open-candy', answer: 'go' },
    ],
    plan: { at: [10, 12], days: { 'cut-cells': 15, 'second-look': 18, 'open-candy': 18 } },
  },
  {
    name: 'a frame of sealed brood added changes nothing',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut({ sealed: 8 })],
      [7, 10.5, facts.hung()],
      [8, 10, facts.broodAdded({ brood: 'sealed-only' })],
      [10, 10, facts.cut()],
    ],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'go' }],
  },
];
