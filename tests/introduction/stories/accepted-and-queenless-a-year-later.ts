import { at } from '../support/field-log.ts';
import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'accepted, and queenless with cells long after: brood of her later weeks contradicts nothing',
  before: {
    diary: [
      ...usualCourse,
      ['day 10, 10:30', wrote.opened()],
      ['day 17, 10:00', wrote.looked()],
      ['day 28, 10:00', { kind: 'outcome', outcome: 'accepted' }],
    ],
  },
  setup: { startingPoint: 'queenless-with-cells', openedAtMs: at(100) },
  diary: [['day 100, 10:00', wrote.inspection({ youngestBrood: 'old-larvae', cells: { sealed: 6 } })]],
  expect: [
    {
      on: 'day 100, 12:00',
      contradictions: 0,
      may: { 'hang the cage': 'stop' },
      says: 'The queen of the introduction before was let out',
      due: ['Put a test frame in', 'Early cut of cells'],
      planned: { 'cut-cells': 102 },
    },
  ],
};
