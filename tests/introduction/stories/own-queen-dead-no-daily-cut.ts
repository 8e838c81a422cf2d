import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own dies in her cage: cells are cut on the day on which the next one is let out, not every day',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.cut({ open: 3 })],
    ['day 1, 10:15', wrote.hung()],
    ['day 1, 10:20', wrote.atCage({ queenAlive: false })],
    ['day 1, 10:25', { kind: 'cage-taken-out', queen: 'in-the-cage' }],
    ['day 5, 9:00', wrote.arrived({ queenId: 'queen-two', origin: 'own' })],
  ],
  expect: [
    { on: 'day 3, 10:00', notDue: ['Cut the cells'], offered: ['The next queen arrives'] },
    { on: 'day 5, 10:00', due: ['Cut the cells', 'Hang the cage'] },
  ],
};
