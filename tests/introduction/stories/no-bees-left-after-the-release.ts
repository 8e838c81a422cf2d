import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the bees left with her in her days outside: how it ended is logged, and nobody is sent to look for her',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 15, 10:00', wrote.inspection({ framesOfBees: 0 })],
  ],
  expect: [
    {
      on: 'day 17, 12:00',
      stands: 'At the last count no bees were left in it.',
      may: { 'look for her': 'stop' },
      notDue: ['Look for the queen'],
      blocked: ['Look for the queen'],
      due: ['Log how it ended'],
    },
  ],
};
