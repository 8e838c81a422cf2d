import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'closed as lost after one look that did not find her; the next queen comes',
  before: {
    diary: [
      ...usualCourse,
      ['day 11, 10:00', wrote.opened()],
      ['day 18, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
      ['day 18, 11:00', { kind: 'outcome', outcome: 'queen-lost' }],
    ],
  },
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [['day 19, 10:00', wrote.arrived({ queenId: 'queen-two' })]],
  expect: [{ on: 'day 19, 11:00', may: { 'hang the cage': 'stop' }, says: 'not found' }],
};
