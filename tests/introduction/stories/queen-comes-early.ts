import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen comes four days early: she hangs the same day, and the cut of day 7 stays',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 3, 12:00', wrote.arrived()],
    ['day 4, 9:00', wrote.hung()],
    ['day 4, 9:30', wrote.cut({ open: 6 })],
  ],
  expect: [
    {
      on: 'day 3, 13:00',
      may: { 'hang the cage': 'go', 'cut the cells': 'wait' },
      due: ['Hang the cage'],
      offered: ['Early cut of cells'],
      notDue: ['Early cut of cells'],
      planned: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 },
    },
    {
      on: 'day 4, 11:00',
      until: { 'cut the cells': 7 },
      planned: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 },
    },
  ],
};
