import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'let out before the cells were cut: she is looked for before a virgin can emerge, and cells with her',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 4, 8:00', wrote.hung()],
    ['day 5, 8:00', wrote.opened()],
    ['day 11, 10:00', wrote.looked({ cells: { open: 0, sealed: 2, emerged: 0, tornDown: 1 } })],
  ],
  expect: [
    { on: 'day 5, 8:10', due: ['Tape the candy end again'] },
    // Bees need twelve hours and more for the candy: from then on she may be out.
    { on: 'day 5, 21:00', without: ['close-candy'], planned: { 'look-for-queen': 11 } },
    { on: 'day 11, 9:00', may: { 'look for her': 'go' }, todo: { 'look-for-queen': ['cells'] } },
    { on: 'day 11, 10:10', due: ['Cut the cell that was seen'] },
  ],
};
