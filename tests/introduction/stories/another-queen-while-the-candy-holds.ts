import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hours after the opening an inspection meets a laying queen: the one that was brought is still behind her candy, so nothing is accepted',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 11, 16:00', wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
  ],
  expect: [{ on: 'day 11, 18:00', stage: 'candy-open' }],
};
