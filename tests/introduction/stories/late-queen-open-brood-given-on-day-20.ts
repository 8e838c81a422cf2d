import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame of open brood given on day 20, days after the last look: cells on it, cut a week later',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 10, 10:00', wrote.cut()],
    ['day 20, 10:00', wrote.broodAdded()],
    ['day 27, 10:00', wrote.cut({ sealed: 6, open: 1 }, { youngestBrood: 'old-larvae' })],
    ['day 28, 10:00', wrote.arrived()],
    ['day 28, 11:00', wrote.hung()],
    ['day 30, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 30, 10:10', wrote.atCage()],
  ],
  expect: [{ on: 'day 30, 12:00', may: { 'let her out': 'go' } }],
};
