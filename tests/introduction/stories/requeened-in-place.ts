import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was found and killed, without a split',
  setup: { startingPoint: 'requeened-in-place' },
  diary: [
    ['day 0, 10:00', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 11:00', wrote.hung()],
    ['day 7, 10:00', wrote.cut({ sealed: 9 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 10, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 1, 10:30', may: { 'hang the cage': 'go' } },
    { on: 'day 5, 10:00', may: { 'let her out': 'wait' } },
    { on: 'day 7, 9:00', may: { 'cut the cells': 'go' }, due: ['Cut the cells'] },
    { on: 'day 10, 12:00', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
