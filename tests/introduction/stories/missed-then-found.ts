import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'not found at the check, her eggs are there four days later',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 22, 10:00', wrote.looked({ queenSeen: false })],
  ],
  expect: [
    { on: 'day 22, 12:00', stage: 'accepted', notDue: ['Look again for the queen', 'Put a test frame in'] },
  ],
};
