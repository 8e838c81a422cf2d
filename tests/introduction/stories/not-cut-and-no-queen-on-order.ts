import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'nobody cut the cells, and no queen is on order: the cut is overdue, and nobody is sent to hang a queen',
  diary: [['day 0, 10:00', wrote.split()]],
  expect: [
    { on: 'day 7, 9:00', due: ['Cut the cells', 'Hang the cage'] },
    {
      on: 'day 9, 12:00',
      due: ['Cut the cells'],
      notDue: ['Hang the cage'],
      offered: ['Hang the cage'],
      afterSheComes: { 'hang-cage': 0, 'open-candy': 1, 'look-for-queen': 8, 'check-sealed-brood': 18 },
      todo: { 'hang-cage': ['No queen is logged or expected'] },
    },
  ],
};
