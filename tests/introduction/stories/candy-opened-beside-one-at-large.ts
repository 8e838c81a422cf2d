import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'another is hung and let out in the days outside of the first: she is shut in again while she can be',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 12, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 13, 10:00', wrote.opened()],
  ],
  expect: [
    {
      on: 'day 13, 12:00',
      due: ['Tape the candy end again'],
      todo: {
        'close-candy': ['A queen that was let out before may be in the box: one would kill the other.'],
      },
    },
    { on: 'day 13, 23:00', notDue: ['Tape the candy end again'] },
  ],
};
