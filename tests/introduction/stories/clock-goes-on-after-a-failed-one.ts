import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she was killed before she laid: the days without a queen are counted from the split on',
  before: {
    diary: [
      ...usualCourse,
      ['day 11, 10:00', wrote.opened()],
      ['day 18, 10:00', { kind: 'queen-dead' }],
      ['day 18, 11:00', { kind: 'outcome', outcome: 'queen-killed' }],
    ],
  },
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [['day 22, 10:00', wrote.arrived({ queenId: 'queen-two' })]],
  expect: [{ on: 'day 22, 11:00', may: { 'hang the cage': 'wait' }, says: 'laying workers' }],
};
