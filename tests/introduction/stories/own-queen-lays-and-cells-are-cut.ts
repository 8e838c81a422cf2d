import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own lays, and the cells that larvae were left for are cut: the next look is the one for her sealed brood',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.cut()],
    ['day 1, 10:10', wrote.hung()],
    ['day 1, 10:30', wrote.opened()],
    ['day 8, 10:00', wrote.looked({ cells: { open: 2, sealed: 9, emerged: 0, tornDown: 0 } })],
    ['day 8, 10:20', wrote.cut({ open: 2, sealed: 9 }, { youngestBrood: 'eggs' })],
  ],
  expect: [
    { on: 'day 8, 10:10', due: ['Cut the cell that was seen'] },
    {
      on: 'day 8, 12:00',
      without: ['look-again', 'cut-after-release'],
      planned: { 'check-sealed-brood': 18 },
    },
  ],
};
