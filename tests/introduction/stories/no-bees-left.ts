import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'no bees are left at the second look: she is not let out alone',
  diary: [
    ...usualCourse,
    ['day 10, 10:10', wrote.inspection({ framesOfBees: 0, youngestBrood: 'none' })],
    ['day 11, 10:00', wrote.inspection({ framesOfBees: 2, youngestBrood: 'sealed-only' })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      says: 'At the last count no bees were left',
      due: ['Add bees, count the frames'],
      todo: { 'add-bees': ['Take her out, and keep her warm', 'brood without bees chills'] },
      blocked: ['Open the candy end'],
    },
    { on: 'day 11, 12:00', may: { 'let her out': 'go' }, notDue: ['Add bees, count the frames'] },
  ],
};
