import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a swarm cell taken out at the split, and a clean day 10: a test frame with one look, instead of three looks',
  diary: [
    ['day 0, 10:00', wrote.split({ cellsAlreadyThere: 'present-and-removed', cellsTakenOut: 1 })],
    ['day 8, 10:00', wrote.cut({ sealed: 3 })],
    ['day 8, 10:20', wrote.hung()],
    ['day 11, 10:00', wrote.cut()],
    ['day 11, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 14, 10:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 4 })],
    ['day 14, 10:10', wrote.cut()],
    ['day 14, 10:20', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 11, 10:05',
      may: { 'let her out': 'wait' },
      due: ['Put a test frame in'],
      notDue: ['One more look for cells'],
    },
    { on: 'day 14, 10:30', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
