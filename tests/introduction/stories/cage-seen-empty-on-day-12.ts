import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'looked too early, and the cage was empty: three full days count from then, not from the end of the candy',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 12, 11:00', wrote.looked({ eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 14, 12:00',
      may: { 'look for her': 'stop' },
      says: 'since she was found to be out of her cage',
    },
    { on: 'day 15, 12:00', may: { 'look for her': 'wait' } },
  ],
};
