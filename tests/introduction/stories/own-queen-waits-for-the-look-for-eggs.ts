import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own, the old one not seen at the split: cells are cut on the day that shows who is in it, not every day before',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.hung()],
  ],
  expect: [
    {
      on: 'day 1, 12:00',
      may: { 'let her out': 'wait', 'cut the cells': 'go' },
      notDue: ['Cut the cells', 'Look through every frame'],
      planned: { 'cut-cells': 4 },
    },
    { on: 'day 2, 9:00', notDue: ['Cut the cells'] },
    {
      on: 'day 4, 9:00',
      due: ['Cut the cells'],
      without: ['look-through'],
      todo: { 'cut-cells': ['the youngest brood', 'Look for eggs on every frame'] },
    },
  ],
};
