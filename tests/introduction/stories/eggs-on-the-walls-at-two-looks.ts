import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs on the cell walls on day 10, and again the day after: workers lay',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'eggs', eggsStand: 'walls' })],
    ['day 11, 10:00', wrote.inspection({ youngestBrood: 'eggs', eggsStand: 'walls' })],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'let her out': 'stop' },
      says: 'Workers are laying',
      due: ['Unite it, or shake it out'],
    },
  ],
};
