import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'an inspection a week after the release meets her, with eggs: that is the look for her',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
  ],
  expect: [{ on: 'day 18, 12:00', stage: 'accepted', notDue: ['Look for the queen'] }],
};
