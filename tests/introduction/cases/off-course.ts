import { facts } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';

/** Dates and finds that are not the usual ones. */
export const offCourse: readonly CaseHistory[] = [
  {
    name: 'cells cut on day 4 only: it can’t be the last cut',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 4, hour: 10, fact: facts.cut({ open: 9 }) },
      { day: 4, hour: 10.5, fact: facts.hung() },
    ],
    gates: [
      { day: 4, hour: 9, gate: 'cut-cells', answer: 'wait', untilDay: 7 },
      { day: 6, hour: 10, gate: 'open-candy', answer: 'wait' },
      { day: 9, hour: 10, gate: 'open-candy', answer: 'wait', says: 'Cut the cells' },
    ],
    plan: { day: 5, hour: 9, days: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 } },
  },
  {
    name: 'cut on days 4 and 10: a second late look is wanted',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 4, hour: 10, fact: facts.cut({ open: 9 }) },
      { day: 4, hour: 10.5, fact: facts.hung() },
      { day: 10, hour: 10, fact: facts.cut({ sealed: 1 }) },
      { day: 13, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'wait', untilDay: 13 },
      { day: 13, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
    plan: { day: 10, hour: 12, days: { 'second-look': 13, 'open-candy': 13 } },
  },
  {
    name: 'first cut on day 10: hardly a virgin can be out, what was missed decides',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 10, hour: 10, fact: facts.cut({ sealed: 7 }) },
      { day: 10, hour: 10.5, fact: facts.hung() },
      { day: 13, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 10, hour: 9, gate: 'cut-cells', answer: 'go' },
      { day: 13, hour: 11, gate: 'open-candy', answer: 'wait', says: 'One more look first' },
    ],
  },
  {
    name: 'first cut on day 12: a virgin may be loose',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 12, hour: 10, fact: facts.cut({ sealed: 7 }) },
      { day: 12, hour: 10.5, fact: facts.hung() },
      { day: 15, hour: 10, fact: facts.cut() },
    ],
    gates: [{ day: 15, hour: 11, gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' }],
    plan: { day: 15, hour: 12, days: { 'test-frame-in': 15, 'test-frame-out': 17 } },
  },
  {
    name: 'first cut on day 10, then a test frame with cells on it',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 10, hour: 10, fact: facts.cut({ sealed: 7 }) },
      { day: 10, hour: 10.5, fact: facts.hung() },
      { day: 13, hour: 10, fact: facts.cut() },
      { day: 13, hour: 11, fact: facts.broodAdded({ asTestFrame: true }) },
      { day: 15, hour: 10, fact: facts.broodTaken({ cellsOnIt: 4 }) },
    ],
    gates: [
      { day: 14, hour: 10, gate: 'open-candy', answer: 'wait', says: 'Take the test frame out' },
      { day: 15, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'first cut on day 10, and no cell on the test frame: a queen may be there',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 10, hour: 10, fact: facts.cut({ sealed: 7 }) },
      { day: 10, hour: 10.5, fact: facts.hung() },
      { day: 13, hour: 10, fact: facts.cut() },
      { day: 13, hour: 11, fact: facts.broodAdded({ asTestFrame: true }) },
      { day: 15, hour: 10, fact: facts.broodTaken({ cellsOnIt: 0 }) },
    ],
    gates: [{ day: 15, hour: 11, gate: 'open-candy', answer: 'stop' }],
  },
  {
    name: 'an emerged cell on day 8',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 8, hour: 10, fact: facts.cut({ sealed: 5, emerged: 1 }) },
      { day: 8, hour: 10.5, fact: facts.hung() },
      { day: 11, hour: 10, fact: facts.cut() },
    ],
    gates: [{ day: 11, hour: 11, gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' }],
  },
  {
    name: 'a virgin seen on day 11 and taken away',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 8, hour: 10, fact: facts.cut({ sealed: 5 }) },
      { day: 8, hour: 10.5, fact: facts.hung() },
      { day: 11, hour: 10, fact: facts.cut({}, { virginSeen: true }) },
      { day: 11, hour: 10.2, fact: { kind: 'queen-removed', which: 'virgin' } },
    ],
    gates: [
      { day: 11, hour: 10.1, gate: 'open-candy', answer: 'stop', says: 'virgin is in the box' },
      // Her cell was missed: so may others have been.
      { day: 11, hour: 18, gate: 'open-candy', answer: 'wait', says: 'One more look first' },
    ],
  },
  {
    name: 'only half of the frames were looked through',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 5 }, { everyFrameChecked: false }) },
      { day: 7, hour: 10.5, fact: facts.hung() },
      { day: 10, hour: 10, fact: facts.cut() },
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'wait', says: 'One more look first' }],
  },
  {
    name: 'bees not shaken off on day 10',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 5 }) },
      { day: 7, hour: 10.5, fact: facts.hung() },
      { day: 10, hour: 10, fact: facts.cut({}, { beesShakenOff: false }) },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'wait', says: 'Look through every frame again' },
    ],
  },
  {
    name: 'cells were seen on day 9 and left',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 5 }) },
      { day: 7, hour: 10.5, fact: facts.hung() },
      {
        day: 9,
        hour: 10,
        fact: facts.inspection({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } }),
      },
      { day: 11, hour: 10, fact: facts.cut({ sealed: 1 }) },
      { day: 12, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 9, hour: 11, gate: 'open-candy', answer: 'wait', says: 'Queen cells stand' },
      { day: 11, hour: 11, gate: 'open-candy', answer: 'wait', says: 'One more look' },
      { day: 12, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'a brood frame added on day 8 starts the waiting again',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 8 }) },
      { day: 7, hour: 10.5, fact: facts.hung() },
      { day: 8, hour: 10, fact: facts.broodAdded() },
      { day: 10, hour: 10, fact: facts.cut({ open: 2 }) },
      { day: 15, hour: 10, fact: facts.cut({ sealed: 2 }) },
      { day: 18, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'wait', untilDay: 18 },
      { day: 18, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
    plan: { day: 10, hour: 12, days: { 'cut-cells': 15, 'second-look': 18, 'open-candy': 18 } },
  },
  {
    name: 'a frame of sealed brood added changes nothing',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 8 }) },
      { day: 7, hour: 10.5, fact: facts.hung() },
      { day: 8, hour: 10, fact: facts.broodAdded({ brood: 'sealed-only' }) },
      { day: 10, hour: 10, fact: facts.cut() },
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'go' }],
  },
];
