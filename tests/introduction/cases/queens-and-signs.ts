import { facts } from '../support/field-log.ts';
import type { CaseHistory } from './case.ts';

const usual: CaseHistory['log'] = [
  [0, 10, facts.split()],
  [7, 10, facts.cut({ sealed: 8, open: 1 })],
  [7, 10.5, facts.hung()],
  [10, 10, facts.cut()],
];

/** What speaks for a queen, against the bees, or against the log. */
export const queensAndSigns: readonly CaseHistory[] = [
  {
    name: 'eggs seen on day 5: a queen, laying workers or a wrong entry',
    log: [
      [0, 10, facts.split()],
      [5, 10, facts.inspection({ youngestBrood: 'eggs' })],
      [7, 10, facts.cut({ sealed: 3 })],
      [7, 10.5, facts.hung()],
      [10, 10, facts.cut()],
    ],
    gates: [
      { at: [6, 10], gate: 'hang-cage', answer: 'stop', says: 'queen may be in the box' },
      { at: [10, 11], gate: 'open-candy', answer: 'stop', says: 'queen may be in the box' },
    ],
    contradictions: ['brood-too-young'],
  },
  {
    name: 'eggs on day 3 are the old queen’s',
    log: [
      [0, 10, facts.split()],
      [3, 10, facts.inspection({ youngestBrood: 'eggs', beesShakenOff: false })],
      ...usual.slice(1),
    ],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'go' }],
    contradictions: [],
  },
  {
    name: 'the old queen is found on day 5 and taken away',
    log: [
      [0, 10, facts.split({ oldQueen: 'not-seen' })],
      [5, 10, facts.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
      [5, 10.5, { kind: 'queen-removed', which: 'old-queen' }],
    ],
    gates: [
      { at: [5, 10.2], gate: 'open-candy', answer: 'stop', says: 'queen may be in the box' },
      { at: [10, 10], gate: 'cut-cells', answer: 'wait', untilDay: 12 },
    ],
    plan: { at: [6, 10], days: { 'cut-cells': 12, 'second-look': 15 } },
  },
  {
    name: 'old queen not seen at the split: eggs or a test frame have to tell',
    log: [
      [0, 10, facts.split({ oldQueen: 'not-seen' })],
      [6, 10.5, facts.hung()],
    ],
    gates: [
      { at: [2, 10], gate: 'hang-cage', answer: 'go' },
      { at: [7, 10], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' },
    ],
  },
  {
    name: 'swarm cells at the split, left: a virgin from them may be loose',
    log: [[0, 10, facts.split({ cellsAlreadyThere: 'present-and-left' })], ...usual.slice(1)],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' }],
  },
  {
    name: 'swarm cells at the split, cut there and then',
    log: [[0, 10, facts.split({ cellsAlreadyThere: 'present-and-removed' })], ...usual.slice(1)],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'go' }],
  },
  {
    name: 'nobody looked for cells at the split, but every frame was looked through the same day',
    log: [
      [0, 10, facts.split({ cellsAlreadyThere: 'not-looked' })],
      [0, 15, facts.inspection()],
      ...usual.slice(1),
    ],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'go' }],
  },
  {
    name: 'hostile bees at the cage',
    log: [...usual, [10, 10.2, facts.atCage({ behaviour: 'biting' })], [12, 10, facts.atCage()]],
    gates: [
      { at: [10, 11], gate: 'open-candy', answer: 'stop', says: 'bite at the cage' },
      { at: [12, 11], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'drone brood in worker cells: laying workers',
    log: [
      ...usual.slice(0, 3),
      [10, 10, facts.cut({}, { droneBroodInWorkerCells: true, youngestBrood: 'sealed-only' })],
    ],
    gates: [
      { at: [10, 11], gate: 'open-candy', answer: 'stop', says: 'Laying workers' },
      { at: [10, 11], gate: 'hang-cage', answer: 'stop' },
    ],
  },
  {
    name: 'several eggs a cell on day 24',
    log: [...usual, [24, 10, facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true })]],
    gates: [{ at: [24, 11], gate: 'open-candy', answer: 'stop', says: 'Laying workers' }],
    contradictions: [],
  },
  {
    name: 'a young larva in an open cell on day 10 contradicts the date of the last egg',
    log: [...usual.slice(0, 3), [10, 10, facts.cut({ open: 1 }, { youngLarvaInOpenCell: true })]],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'stop', says: 'queen may be in the box' }],
    contradictions: ['young-larva-in-late-cell'],
  },
  {
    name: 'not one queen cell was ever seen, and nobody looked for eggs',
    log: [
      [0, 10, facts.split()],
      [7, 10, facts.cut()],
      [7, 10.5, facts.hung()],
      [10, 10, facts.cut()],
    ],
    gates: [{ at: [10, 11], gate: 'open-candy', answer: 'wait', says: 'Look for eggs' }],
  },
  {
    name: 'cage found empty and no queen',
    log: [
      ...usual,
      [10, 11, facts.opened()],
      [
        17,
        10,
        facts.looked({
          queenSeen: false,
          eggsSeen: false,
          cells: { open: 2, sealed: 0, emerged: 0, tornDown: 0 },
        }),
      ],
    ],
    gates: [{ at: [17, 11], gate: 'look-for-queen', answer: 'go' }],
    stage: [{ at: [17, 11], stage: 'failed' }],
    plan: { at: [17, 11], days: {} },
  },
  {
    name: 'queen seen but no eggs on day 14',
    log: [...usual, [10, 11, facts.opened()], [14, 10, facts.looked({ eggsSeen: false })]],
    gates: [],
    stage: [{ at: [14, 11], stage: 'accepted' }],
    plan: { at: [14, 11], days: { 'look-again': 18 } },
  },
  {
    name: 'dead on arrival: the nuc waits for the next queen',
    log: [
      [0, 10, facts.split()],
      [7, 9, facts.arrived({ condition: 'dead' })],
      [7, 10, facts.cut({ sealed: 8 })],
      [10, 10, facts.cut()],
      [12, 10, facts.arrived({ queenId: 'queen-two' })],
      [12, 11, facts.hung({ queenId: 'queen-two' })],
    ],
    gates: [
      { at: [8, 10], gate: 'hang-cage', answer: 'wait', says: 'dead' },
      { at: [12, 10.5], gate: 'hang-cage', answer: 'go' },
      { at: [13, 12], gate: 'open-candy', answer: 'go' },
    ],
  },
  {
    name: 'two queens for one nuc',
    log: [...usual, [10, 11, facts.hung({ queenId: 'queen-two' })]],
    gates: [{ at: [10, 10.5], gate: 'hang-cage', answer: 'stop', says: 'cage hangs already' }],
    contradictions: ['two-queens-in-cages'],
  },
  {
    name: 'queenless with cells of unknown age: only a test frame tells',
    setup: { startingPoint: 'queenless-with-cells' },
    log: [
      [0, 10, facts.cut({ sealed: 4, open: 2 }, { youngestBrood: 'old-larvae' })],
      [0, 11, facts.hung()],
      [3, 10, facts.cut()],
      [3, 10.5, facts.broodAdded({ asTestFrame: true })],
      [5, 10, facts.broodTaken({ cellsOnIt: 5 })],
    ],
    gates: [
      { at: [3, 10.2], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' },
      { at: [5, 11], gate: 'open-candy', answer: 'wait' },
    ],
  },
  {
    name: 'hopelessly queenless: nothing left, a test frame first',
    setup: { startingPoint: 'hopelessly-queenless' },
    log: [
      [0, 10, facts.inspection({ youngestBrood: 'none' })],
      [0, 10.5, facts.broodAdded({ asTestFrame: true })],
      [2, 10, facts.broodTaken({ cellsOnIt: 3 })],
      [2, 10.5, facts.hung()],
      [2, 11, facts.cut({}, { youngestBrood: 'none' })],
      [3, 11, facts.atCage()],
    ],
    gates: [
      { at: [0, 11], gate: 'open-candy', answer: 'stop', says: 'virgin may be loose' },
      { at: [3, 12], gate: 'open-candy', answer: 'go' },
    ],
  },
];
