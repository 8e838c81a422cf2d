import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame with eggs is given while the candy is eaten, and eggs are seen: they do not show that she is out',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 11, 10:00', wrote.broodAdded()],
    ['day 12, 12:00', wrote.inspection({ youngestBrood: 'eggs' })],
  ],
  expect: [
    {
      on: 'day 15, 15:00',
      may: { 'look for her': 'stop' },
      says: 'Bees take up to three days through the candy',
      until: { 'look for her': 16 },
    },
  ],
};
