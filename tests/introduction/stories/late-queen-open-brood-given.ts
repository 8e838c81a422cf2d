import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen comes late: a frame of open brood on day 16, cut on day 23, looked through on day 26',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 10, 10:00', wrote.cut()],
    ['day 16, 10:00', wrote.broodAdded()],
    ['day 23, 10:00', wrote.cut({ sealed: 5 }, { youngestBrood: 'sealed-only' })],
    ['day 24, 10:00', wrote.arrived()],
    ['day 24, 11:00', wrote.hung()],
    ['day 26, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 26, 10:10', wrote.atCage()],
  ],
  expect: [{ on: 'day 26, 12:00', may: { 'let her out': 'go' } }],
};
