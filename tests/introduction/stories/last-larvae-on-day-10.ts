import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'larvae near sealing on day 10 are the last drone larvae of the old queen: no queen is looked for',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'old-larvae' })],
    ['day 10, 10:20', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 10, 11:00',
      may: { 'let her out': 'go' },
      due: ['Open the candy end'],
      notDue: ['Put a test frame in'],
    },
  ],
};
