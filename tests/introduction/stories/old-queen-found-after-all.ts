import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'on day 4 the old queen is found in the split and taken away: what was seen before is explained, and the days begin again',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 4, 10:00', wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
    ['day 4, 10:20', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
  ],
  expect: [
    {
      on: 'day 4, 10:10',
      may: { 'hang the cage': 'stop' },
      says: 'A laying queen was seen walking free',
      due: ['Find the loose queen and take her away'],
      without: ['test-frame-in'],
      todo: { 'take-queen-out': ['Look for the laying queen that was seen'] },
    },
    {
      on: 'day 4, 12:00',
      may: { 'hang the cage': 'go', 'let her out': 'wait' },
      notSays: 'too young for the last egg',
      contradictions: 0,
      planned: { 'cut-cells': 11 },
    },
  ],
};
