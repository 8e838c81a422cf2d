import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two torn-down cells on day 10, after the cut of day 7: they were passed over then, and one more look comes first',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 7 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({ tornDown: 2 })],
    ['day 10, 10:10', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Chance that a dangerous cell was missed',
      notDue: ['Open the candy end'],
    },
    { on: 'day 11, 9:00', may: { 'cut the cells': 'go' }, due: ['One more look for cells'] },
  ],
};
