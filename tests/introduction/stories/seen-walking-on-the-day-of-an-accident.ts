import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'at the second look her cage is empty and she walks on a comb: an hour outside is no acceptance yet',
  diary: [...usualCourse, ['day 10, 10:10', wrote.looked({ eggsSeen: false })]],
  expect: [
    { on: 'day 10, 12:00', stage: 'hands-off', stands: 'out by accident', may: { 'look for her': 'stop' } },
    { on: 'day 18, 9:00', stage: 'check-due' },
  ],
};
