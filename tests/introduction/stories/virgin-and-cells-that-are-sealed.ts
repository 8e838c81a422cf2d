import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin is seen among sealed cells: the cells are cut today too, before the next one emerges',
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 0, 9:00', wrote.arrived()],
    [
      'day 0, 10:00',
      wrote.inspection({
        youngestBrood: 'eggs',
        cells: { open: 0, sealed: 3, emerged: 1, tornDown: 0 },
        virginSeen: true,
      }),
    ],
  ],
  expect: [{ on: 'day 0, 12:00', due: ['Find the loose queen and take her away', 'Early cut of cells'] }],
};
