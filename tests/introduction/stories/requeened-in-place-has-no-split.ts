import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place: no split, no foragers that fly home, and the days count from the hour she was taken',
  setup: { startingPoint: 'requeened-in-place', openedAtMs: 0 },
  diary: [
    ['day 2, 10:00', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
    ['day 9, 10:00', wrote.cut({ sealed: 7 })],
    ['day 9, 10:30', wrote.hung()],
    ['day 12, 10:00', wrote.cut()],
  ],
  expect: [
    {
      on: 'day 1, 10:00',
      may: { 'let her out': 'wait', 'hang the cage': 'wait', 'cut the cells': 'wait' },
      says: 'Find the old queen',
      stands: 'old queen',
      without: ['split'],
    },
    {
      on: 'day 3, 10:00',
      stands: 'waiting to cut',
      without: ['split'],
      planned: { 'cut-cells': 9, 'second-look': 12 },
    },
    { on: 'day 12, 12:00', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
