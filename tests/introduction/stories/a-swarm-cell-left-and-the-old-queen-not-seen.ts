import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen not seen, and a swarm cell that was left at the split: it does not show that she is gone',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    [
      'day 0, 10:00',
      wrote.split({ oldQueen: 'not-seen', cellsAlreadyThere: 'present-and-removed', cellsTakenOut: 5 }),
    ],
    ['day 1, 9:00', wrote.arrived()],
    ['day 1, 10:00', wrote.hung()],
    ['day 1, 10:10', wrote.cut({ sealed: 1 }, { youngestBrood: 'eggs' })],
    ['day 1, 10:20', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 1, 10:30',
      may: { 'let her out': 'wait' },
      says: 'Look for eggs on every frame, from day 4 on',
      notDue: ['Open the candy end'],
    },
  ],
};
