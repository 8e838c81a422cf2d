import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'one frame of bees is left at the second look: bees are added while she is safe in her cage, then she is let out',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.inspection({ framesOfBees: 1, youngestBrood: 'sealed-only' })],
    ['day 11, 10:00', wrote.inspection({ framesOfBees: 2, youngestBrood: 'sealed-only' })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      says: 'At the last count there was only 1 frame of bees: add bees while she is in her cage.',
      due: ['Add bees, count the frames'],
      blocked: ['Open the candy end'],
    },
    {
      on: 'day 11, 12:00',
      may: { 'let her out': 'go' },
      due: ['Open the candy end'],
      notDue: ['Add bees, count the frames'],
    },
  ],
};
