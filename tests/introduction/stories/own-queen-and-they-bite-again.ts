import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the bees bite at the cage of a queen of one’s own for a second day: who looks for the cause cuts the cells',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 2, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 2, 10:00', wrote.hung()],
    ['day 2, 10:10', wrote.cut({ open: 5, sealed: 3 })],
    ['day 2, 10:20', wrote.atCage({ behaviour: 'biting' })],
    ['day 3, 10:00', wrote.atCage({ behaviour: 'biting' })],
    ['day 3, 10:20', wrote.cut({ open: 7 })],
  ],
  expect: [
    { on: 'day 3, 10:10', due: ['Cut the cells'], without: ['look-through'] },
    { on: 'day 3, 11:00', notDue: ['Cut the cells'], planned: { 'watch-cage': 4 } },
  ],
};
