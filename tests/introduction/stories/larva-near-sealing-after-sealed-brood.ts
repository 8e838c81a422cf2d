import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a larva is taken for open on day 11, where no egg and no young larva is on any frame: no queen is feared',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({ sealed: 2 }, { youngestBrood: 'sealed-only' })],
    ['day 11, 10:00', wrote.cut({}, { youngestBrood: 'old-larvae' })],
    ['day 11, 10:10', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'let her out': 'go' },
      due: ['Open the candy end'],
      without: ['test-frame-in'],
      contradictions: 0,
    },
  ],
};
