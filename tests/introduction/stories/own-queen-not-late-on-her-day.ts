import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'own laying queen hangs since day 1, every cell is cut on day 7: she is let out that day, and is not late by noon',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 10:00', wrote.hung()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
  ],
  expect: [{ on: 'day 7, 14:00', due: ['Open the candy end'], latest: { 'open-candy': 7 } }],
};
