import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame of eggs given on day 4: cells of the first brood would open before the cut of day 11, and are cut on day 7',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 4, 10:00', wrote.broodAdded()],
    ['day 9, 10:00', wrote.cut({ sealed: 4 })],
  ],
  expect: [
    {
      on: 'day 5, 9:00',
      notDue: ['Early cut of cells'],
      planned: { 'early-cut': 7, 'cut-cells': 11, 'second-look': 14 },
      latest: { 'early-cut': 8 },
      todo: { 'early-cut': ['A virgin may emerge before the cut that counts'] },
    },
    { on: 'day 7, 9:00', due: ['Early cut of cells'], planned: { 'early-cut': 7 } },
    {
      on: 'day 9, 9:00',
      due: ['Early cut of cells'],
      planned: { 'early-cut': 9 },
      latest: { 'early-cut': 8 },
    },
    {
      on: 'day 9, 11:00',
      without: ['early-cut'],
      planned: { 'cut-cells': 11, 'second-look': 14 },
    },
  ],
};
