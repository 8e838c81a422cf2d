import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two entries of one visit that saw eggs and no sealed brood: it is one look, and her brood has another one',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked()],
    ['day 27, 10:20', wrote.looked()],
  ],
  expect: [{ on: 'day 27, 12:00', without: ['unite'], planned: { 'check-sealed-brood': 31 } }],
};
