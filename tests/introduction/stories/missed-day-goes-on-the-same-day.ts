import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'nobody could go on day 10; on day 11 the look is made in the afternoon, and she is let out in the same visit',
  // On a farm whose looks miss few cells: the chance stays well under the limit.
  setup: { missRate: { alpha: 2, beta: 38, learntFrom: 6 } },
  diary: [
    ...usualCourse.slice(0, -1),
    ['day 11, 15:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 11, 15:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 11, 14:00', due: ['Second look for cells'] },
    { on: 'day 11, 15:15', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
