import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a laying queen of one’s own in the candy cage: cells cut, hung and let out on one day',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived()],
    ['day 1, 10:00', wrote.cut({ open: 4 })],
    ['day 1, 10:15', wrote.hung()],
    ['day 1, 10:25', wrote.atCage()],
  ],
  expect: [
    { on: 'day 1, 9:30', may: { 'let her out': 'wait' }, notDue: ['Open the candy end'] },
    { on: 'day 1, 10:30', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
    // The cut is of yesterday: larvae are left.
    {
      on: 'day 2, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Cut the cells first',
      notDue: ['Open the candy end'],
    },
  ],
};
