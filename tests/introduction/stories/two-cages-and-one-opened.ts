import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two cages hang and one was opened: the other is taken out while nobody can be out, else at the look for her',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 8, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 10, 10:00', wrote.cut()],
    ['day 10, 11:00', wrote.opened()],
  ],
  expect: [
    { on: 'day 10, 12:00', due: ['Take one of the two cages out'] },
    { on: 'day 13, 12:00', planned: { 'take-cage-out': 17, 'look-for-queen': 17 } },
  ],
};
