import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'larvae were taken for young on day 7, and day 10 finds sealed brood alone: the cut of day 7 counts, day 10 is the second look',
  diary: [
    ...usualCourse.slice(0, 1),
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 }, { youngestBrood: 'young-larvae' })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 10, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 7, 12:00', may: { 'let her out': 'stop' }, contradictions: 1 },
    { on: 'day 10, 10:30', contradictions: 0, may: { 'let her out': 'go' }, notDue: ['Cut the cells'] },
  ],
};
