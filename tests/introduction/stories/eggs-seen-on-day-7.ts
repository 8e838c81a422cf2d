import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs on day 7 in a split whose old queen was seen in the parent: a queen may be in the box',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({}, { youngestBrood: 'eggs' })],
    ['day 7, 12:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 8, 9:00',
      may: { 'hang the cage': 'stop', 'let her out': 'stop' },
      notDue: ['Hang the cage', 'Open the candy end'],
      says: 'a queen',
    },
  ],
};
