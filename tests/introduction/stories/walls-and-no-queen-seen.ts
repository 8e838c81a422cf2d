import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs on the walls at the check, and no queen: nothing says that she was seen',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, eggsStand: 'walls' })],
  ],
  expect: [
    {
      on: 'day 17, 12:00',
      todo: { 'look-again': ['Look for her and for her eggs again', 'Eggs were seen as workers lay them'] },
    },
  ],
};
