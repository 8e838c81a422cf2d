import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'queenless with cells, since the old queen was taken away today: how it began is known, and nobody has to look for it',
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 0, 10:00', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
    ['day 0, 10:30', wrote.arrived()],
    ['day 0, 10:40', wrote.hung()],
  ],
  expect: [{ on: 'day 1, 12:00', without: ['look-through'], planned: { 'cut-cells': 7 } }],
};
