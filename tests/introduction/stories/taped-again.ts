import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the candy end was opened before the second look: the answer at the cage is to tape it again, not to hang one',
  diary: [...usualCourse.slice(0, -1), ['day 8, 10:00', wrote.opened()]],
  expect: [
    {
      on: 'day 8, 12:00',
      may: { 'hang the cage': 'go' },
      says: 'Tape the candy end again',
    },
  ],
};
