import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the first queen was not found, and the next one is taken out of her cage again: the first is still looked for again',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 18, 9:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 18, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 19, 10:00', { kind: 'cage-taken-out', queen: 'in-the-cage' }],
  ],
  expect: [
    { on: 'day 18, 12:00', planned: { 'look-again': 21 } },
    { on: 'day 19, 12:00', may: { 'hang the cage': 'stop' }, planned: { 'look-again': 21 } },
  ],
};
