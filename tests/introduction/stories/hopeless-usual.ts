import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, no brood, no sign of laying workers: hung, and watched for a day',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 11:00', wrote.hung()],
  ],
  expect: [
    { on: 'day 1, 10:30', may: { 'hang the cage': 'go' }, due: ['Hang the cage'], notDue: ['Cut the cells'] },
    { on: 'day 1, 12:00', notDue: ['Open the candy end'] },
  ],
};
