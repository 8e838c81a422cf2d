import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'cells were cut on day 4 too: one look more, not one reason more to wait',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 4, 10:00', wrote.cut({ open: 9 })],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 3 })],
    ...usualCourse.slice(2),
  ],
  expect: [{ on: 'day 10, 11:00', may: { 'let her out': 'go' } }],
};
