import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame of eggs and larvae given on day 3: the cut counts a week from then',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 3, 10:00', wrote.broodAdded()],
  ],
  expect: [
    { on: 'day 7, 12:00', may: { 'cut the cells': 'wait' }, notDue: ['Cut the cells'] },
    { on: 'day 10, 9:00', may: { 'cut the cells': 'go' }, due: ['Cut the cells'] },
  ],
};
