import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place after a drone layer that is in it still: cells are cut a week after she is taken, not after the introduction before',
  before: {
    diary: [
      ...usualCourse,
      ['day 10, 10:30', wrote.opened()],
      ['day 17, 10:00', wrote.looked()],
      ['day 36, 10:00', { kind: 'outcome', outcome: 'drone-layer' }],
    ],
  },
  setup: { startingPoint: 'requeened-in-place' },
  diary: [['day 40, 9:00', wrote.arrived({ queenId: 'queen-two' })]],
  expect: [{ on: 'day 40, 12:00', planned: { 'cut-cells': 48, 'find-old-queen': 41 } }],
};
