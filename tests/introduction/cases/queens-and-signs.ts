import { facts } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';

const usual: CaseHistory['log'] = [
  { day: 0, hour: 10, fact: facts.split() },
  { day: 7, hour: 10, fact: facts.cut({ sealed: 8, open: 1 }) },
  { day: 7, hour: 10.5, fact: facts.hung() },
  { day: 10, hour: 10, fact: facts.cut() },
];

/** What speaks for a queen, against the bees, or against the log. */
export const queensAndSigns: readonly CaseHistory[] = [
  {
    name: 'eggs seen on day 5: a queen, laying workers or a wrong entry',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 5, hour: 10, fact: facts.inspection({ youngestBrood: 'eggs' }) },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 3 }) },
      { day: 7, hour: 10.5, fact: facts.hung() },
      { day: 10, hour: 10, fact: facts.cut() },
    ],
    gates: [
      { day: 6, hour: 10, gate: 'hang-cage', answer: 'stop', says: 'queen may be in the box' },
      { day: 10, hour: 11, gate: 'open-candy', answer: 'stop', says: 'queen may be in the box' },
    ],
    contradictions: ['brood-too-young'],
  },
  {
    name: 'eggs on day 3 are the old queen’s',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 3, hour: 10, fact: facts.inspection({ youngestBrood: 'eggs', beesShakenOff: false }) },
      ...usual.slice(1),
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'go' }],
    contradictions: [],
  },
  {
    name: 'the old queen is found on day 5 and taken away',
    log: [
      { day: 0, hour: 10, fact: facts.split({ oldQueen: 'not-seen' }) },
      { day: 5, hour: 10, fact: facts.inspection({ youngestBrood: 'eggs', layingQueenSeen: true }) },
      { day: 5, hour: 10.5, fact: { kind: 'queen-removed', which: 'old-queen' } },
    ],
    gates: [
      { day: 5, hour: 10.2, gate: 'open-candy', answer: 'stop', says: 'queen may be in the box' },
      { day: 10, hour: 10, gate: 'cut-cells', answer: 'wait', untilDay: 12 },
    ],
    plan: { day: 6, hour: 10, days: { 'cut-cells': 12, 'second-look': 15 } },
  },
  {
    name: 'old queen not seen at the split: eggs or a test frame have to tell',
    log: [
      { day: 0, hour: 10, fact: facts.split({ oldQueen: 'not-seen' }) },
      { day: 6, hour: 10.5, fact: facts.hung() },
    ],
    gates: [
      { day: 2, hour: 10, gate: 'hang-cage', answer: 'go' },
      { day: 7, hour: 10, gate: 'open-candy', answer: 'wait', says: 'Show first that the box is queenless' },
    ],
  },
  {
    name: 'swarm cells at the split, left: a virgin from them may be loose',
    log: [
      { day: 0, hour: 10, fact: facts.split({ cellsAlreadyThere: 'present-and-left' }) },
      ...usual.slice(1),
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' }],
  },
  {
    name: 'swarm cells at the split, cut there and then',
    log: [
      { day: 0, hour: 10, fact: facts.split({ cellsAlreadyThere: 'present-and-removed' }) },
      ...usual.slice(1),
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'wait', says: 'A test frame first' }],
  },
  {
    name: 'nobody looked for cells at the split, but every frame was looked through the same day',
    log: [
      { day: 0, hour: 10, fact: facts.split({ cellsAlreadyThere: 'not-looked' }) },
      { day: 0, hour: 15, fact: facts.inspection() },
      ...usual.slice(1),
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'go' }],
  },
  {
    name: 'hostile bees at the cage',
    log: [
      ...usual,
      { day: 10, hour: 10.2, fact: facts.atCage({ behaviour: 'biting' }) },
      { day: 12, hour: 10, fact: facts.atCage() },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'stop', says: 'bite at the cage' },
      { day: 12, hour: 11, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'drone brood in worker cells: laying workers',
    log: [
      ...usual.slice(0, 3),
      {
        day: 10,
        hour: 10,
        fact: facts.cut({}, { droneBroodInWorkerCells: true, youngestBrood: 'sealed-only' }),
      },
    ],
    gates: [
      { day: 10, hour: 11, gate: 'open-candy', answer: 'stop', says: 'Laying workers' },
      { day: 10, hour: 11, gate: 'hang-cage', answer: 'stop' },
    ],
  },
  {
    name: 'several eggs a cell on day 24',
    log: [
      ...usual,
      { day: 24, hour: 10, fact: facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true }) },
    ],
    gates: [{ day: 24, hour: 11, gate: 'open-candy', answer: 'stop', says: 'Laying workers' }],
    contradictions: [],
  },
  {
    name: 'a young larva in an open cell on day 10 contradicts the date of the last egg',
    log: [
      ...usual.slice(0, 3),
      { day: 10, hour: 10, fact: facts.cut({ open: 1 }, { youngLarvaInOpenCell: true }) },
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'stop', says: 'queen may be in the box' }],
    contradictions: ['young-larva-in-late-cell'],
  },
  {
    name: 'not one queen cell was ever seen, and nobody looked for eggs',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 10, fact: facts.cut() },
      { day: 7, hour: 10.5, fact: facts.hung() },
      { day: 10, hour: 10, fact: facts.cut() },
    ],
    gates: [{ day: 10, hour: 11, gate: 'open-candy', answer: 'wait', says: 'Look for eggs' }],
  },
  {
    name: 'cage found empty and no queen',
    log: [
      ...usual,
      { day: 10, hour: 11, fact: facts.opened() },
      {
        day: 17,
        hour: 10,
        fact: facts.looked({
          queenSeen: false,
          eggsSeen: false,
          cells: { open: 2, sealed: 0, emerged: 0, tornDown: 0 },
        }),
      },
    ],
    gates: [{ day: 17, hour: 11, gate: 'look-for-queen', answer: 'wait', untilDay: 21 }],
    stage: [{ day: 17, hour: 11, stage: 'check-due' }],
    plan: { day: 17, hour: 11, days: { 'look-again': 21, 'check-sealed-brood': 27 } },
  },
  {
    name: 'queen seen but no eggs on day 14',
    log: [
      ...usual,
      { day: 10, hour: 11, fact: facts.opened() },
      { day: 14, hour: 10, fact: facts.looked({ eggsSeen: false }) },
    ],
    gates: [],
    stage: [{ day: 14, hour: 11, stage: 'hands-off' }],
    // Seen so soon she need not lay yet: the next look is the one for her sealed brood.
    plan: { day: 14, hour: 11, days: { 'check-sealed-brood': 27 } },
  },
  {
    name: 'dead on arrival: the nuc waits for the next queen',
    log: [
      { day: 0, hour: 10, fact: facts.split() },
      { day: 7, hour: 9, fact: facts.arrived({ condition: 'dead' }) },
      { day: 7, hour: 10, fact: facts.cut({ sealed: 8 }) },
      { day: 10, hour: 10, fact: facts.cut() },
      { day: 12, hour: 10, fact: facts.arrived({ queenId: 'queen-two' }) },
      { day: 12, hour: 11, fact: facts.hung({ queenId: 'queen-two' }) },
    ],
    gates: [
      { day: 8, hour: 10, gate: 'hang-cage', answer: 'wait', says: 'dead' },
      { day: 12, hour: 10.5, gate: 'hang-cage', answer: 'go' },
      { day: 13, hour: 12, gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'two queens for one nuc',
    log: [...usual, { day: 10, hour: 11, fact: facts.hung({ queenId: 'queen-two' }) }],
    gates: [{ day: 10, hour: 10.5, gate: 'hang-cage', answer: 'stop', says: 'cage hangs already' }],
    contradictions: ['two-queens-in-cages'],
  },
  {
    name: 'found dead in her cage, another is hung: no two queens',
    log: [
      ...usual,
      { day: 10, hour: 10.5, fact: facts.atCage({ queenAlive: false }) },
      { day: 11, hour: 11, fact: facts.hung({ queenId: 'queen-two' }) },
    ],
    gates: [],
    contradictions: [],
  },
  {
    name: 'let out, gone by a test frame, another is hung: no two queens in cages',
    log: [
      ...usual,
      { day: 11, hour: 10, fact: facts.opened() },
      { day: 18, hour: 10, fact: facts.looked({ queenSeen: false, eggsSeen: false }) },
      { day: 22, hour: 11, fact: facts.hung({ queenId: 'queen-two' }) },
    ],
    gates: [],
    contradictions: [],
  },
  {
    name: 'queenless with cells of unknown age: only a test frame tells',
    setup: { startingPoint: 'queenless-with-cells' },
    log: [
      { day: 0, hour: 10, fact: facts.cut({ sealed: 4, open: 2 }, { youngestBrood: 'old-larvae' }) },
      { day: 0, hour: 11, fact: facts.hung() },
      { day: 3, hour: 10, fact: facts.cut() },
      { day: 3, hour: 10.5, fact: facts.broodAdded({ asTestFrame: true }) },
      { day: 5, hour: 10, fact: facts.broodTaken({ cellsOnIt: 5 }) },
    ],
    gates: [
      { day: 3, hour: 10.2, gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' },
      { day: 5, hour: 11, gate: 'open-candy', answer: 'wait' },
    ],
  },
  {
    name: 'hopelessly queenless: nothing left, a test frame first',
    setup: { startingPoint: 'hopelessly-queenless' },
    log: [
      { day: 0, hour: 10, fact: facts.inspection({ youngestBrood: 'none' }) },
      { day: 0, hour: 10.5, fact: facts.broodAdded({ asTestFrame: true }) },
      { day: 2, hour: 10, fact: facts.broodTaken({ cellsOnIt: 3 }) },
      { day: 2, hour: 10.5, fact: facts.hung() },
      { day: 2, hour: 11, fact: facts.cut({}, { youngestBrood: 'none' }) },
      { day: 3, hour: 11, fact: facts.atCage() },
    ],
    gates: [
      { day: 0, hour: 11, gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' },
      { day: 3, hour: 12, gate: 'open-candy', answer: 'go' },
    ],
  },
];
