import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own dies in the cage, and a bought one takes her place: cells are cut twice, as for a bought one',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.hung()],
    ['day 2, 10:00', wrote.atCage({ queenAlive: false })],
    ['day 4, 9:00', wrote.arrived({ queenId: 'queen-two', origin: 'same-country' })],
    ['day 4, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 4, 10:20', wrote.cut({ open: 6 })],
  ],
  expect: [
    { on: 'day 1, 10:30', due: ['Cut the cells'] },
    {
      on: 'day 4, 11:00',
      may: { 'let her out': 'wait' },
      notDue: ['Open the candy end'],
      planned: { 'cut-cells': 7, 'second-look': 10, 'open-candy': 10 },
    },
  ],
};
