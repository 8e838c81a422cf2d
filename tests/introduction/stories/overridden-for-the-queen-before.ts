import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the answer was overridden for a queen that died, and another is let out as early: she is to be shut in again',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 10:00', wrote.hung()],
    [
      'day 2, 10:00',
      { kind: 'gate-overridden', gate: 'open-candy', reason: 'nobody can come for three weeks' },
    ],
    ['day 3, 10:00', { kind: 'queen-dead' }],
    ['day 5, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 6, 10:10', wrote.opened()],
  ],
  expect: [{ on: 'day 6, 12:00', due: ['Tape the candy end again'] }],
};
