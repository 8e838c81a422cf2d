import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the introduction before ended with laying workers: they are there for the next queen too',
  before: {
    diary: [
      ...usualCourse,
      ['day 11, 10:00', wrote.opened()],
      ['day 18, 10:00', wrote.looked({ queenSeen: false, eggsSeen: true, severalEggsACell: true })],
      ['day 18, 10:10', { kind: 'queen-dead' }],
      ['day 18, 11:00', { kind: 'outcome', outcome: 'queen-killed' }],
    ],
  },
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [['day 19, 10:00', wrote.arrived({ queenId: 'queen-two' })]],
  expect: [{ on: 'day 19, 11:00', may: { 'hang the cage': 'stop' }, says: 'Workers are laying' }],
};
