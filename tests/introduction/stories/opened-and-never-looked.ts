import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the candy was opened a month ago and nobody looked: that says nothing of her eggs',
  diary: [...usualCourse, ['day 11, 10:00', wrote.opened()]],
  expect: [{ on: 'day 41, 12:00', due: ['Look for the queen'], without: ['unite'] }],
};
