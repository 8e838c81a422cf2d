import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'four days after the candy was opened she still sits in the cage: she is looked for three full days after that',
  diary: [...usualCourse, ['day 11, 10:00', wrote.opened()], ['day 15, 16:00', wrote.atCage()]],
  expect: [
    {
      on: 'day 18, 12:00',
      may: { 'look for her': 'stop' },
      says: 'still in her cage',
      notDue: ['Look for the queen'],
    },
    { on: 'day 19, 09:00', due: ['Look for the queen'] },
  ],
};
