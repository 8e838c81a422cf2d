import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she was killed before she laid; no egg and no larva is there: the last egg is the old queen’s',
  before: {
    diary: [
      ...usualCourse,
      ['day 10, 11:00', wrote.opened()],
      ['day 17, 10:00', { kind: 'queen-dead' }],
      ['day 17, 11:00', { kind: 'outcome', outcome: 'queen-killed' }],
    ],
  },
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 18, 9:00', wrote.inspection({ youngestBrood: 'sealed-only' })],
    ['day 18, 10:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 18, 10:30', wrote.hung({ queenId: 'queen-two' })],
  ],
  expect: [{ on: 'day 20, 10:00', may: { 'cut the cells': 'go' } }],
};
