import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she went under the mesh on day 9, and the second look found cells: one more look is made when the mesh can be lifted',
  setup: { method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 3, sealed: 18 })],
    ['day 9, 10:00', wrote.hung()],
    ['day 10, 10:00', wrote.cut({ sealed: 2 })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      planned: { 'one-more-look': 12, 'open-candy': 12 },
    },
    { on: 'day 11, 12:00', notDue: ['One more look for cells'] },
    { on: 'day 12, 9:00', due: ['One more look for cells'] },
  ],
};
