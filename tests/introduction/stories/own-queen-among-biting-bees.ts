import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the bees bite at the cage of a queen of one’s own: they are watched first, and cells are cut on the day on which she can be let out',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 2, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 2, 10:00', wrote.hung()],
    ['day 2, 10:10', wrote.cut({ open: 5, sealed: 3 })],
    ['day 2, 10:20', wrote.atCage({ behaviour: 'biting' })],
    ['day 3, 10:00', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 3, 9:00',
      may: { 'let her out': 'stop', 'cut the cells': 'go' },
      due: ['Watch the bees at the cage'],
      notDue: ['Cut the cells', 'Open the candy end'],
      offered: ['Cut the cells'],
    },
    { on: 'day 3, 10:30', may: { 'let her out': 'wait' }, due: ['Cut the cells'] },
  ],
};
