import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a split without brood gets its queen the same day: she is let out when the old bees have flown home',
  diary: [
    ['day 0, 10:00', wrote.split({ framesOfSealedBrood: 0, framesOfOpenBrood: 0 })],
    ['day 0, 11:00', wrote.hung()],
  ],
  expect: [{ on: 'day 1, 12:00', planned: { 'open-candy': 3 } }],
};
