import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'swarm cells are counted, then taken out with the old queen: none is left',
  setup: { startingPoint: 'requeened-in-place' },
  diary: [
    ['day 0, 9:00', wrote.inspection({ youngestBrood: 'eggs', cells: { open: 3, sealed: 2 } })],
    [
      'day 0, 10:00',
      {
        kind: 'queen-removed',
        which: 'old-queen',
        cellsAlreadyThere: 'present-and-removed',
        cellsTakenOut: 5,
      },
    ],
  ],
  expect: [{ on: 'day 1, 12:00', may: { 'let her out': 'wait' }, notSays: 'were seen and left' }],
};
