import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'young larvae were logged on day 10, and the next looks find only sealed brood',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'young-larvae' })],
    ['day 12, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 12, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', may: { 'let her out': 'stop' }, says: 'too young' },
    { on: 'day 12, 12:00', may: { 'let her out': 'go' } },
  ],
};
