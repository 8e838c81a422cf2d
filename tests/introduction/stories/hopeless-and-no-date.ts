import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, for how long nobody knows: look for laying workers before she hangs',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ everyFrameChecked: false })],
    ['day 1, 10:00', wrote.arrived()],
    ['day 2, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    { on: 'day 1, 11:00', may: { 'hang the cage': 'wait' }, says: 'laying workers' },
    { on: 'day 2, 11:00', may: { 'hang the cage': 'go' } },
  ],
};
