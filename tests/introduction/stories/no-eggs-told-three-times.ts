import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'three entries of one visit two weeks after her release, and no egg: it is one look, and another follows',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 24, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 24, 10:10', wrote.looked({ eggsSeen: false })],
    ['day 24, 10:20', wrote.looked({ eggsSeen: false })],
  ],
  expect: [{ on: 'day 24, 12:00', planned: { 'look-again': 28 } }],
};
