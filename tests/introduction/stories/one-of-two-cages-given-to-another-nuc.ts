import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two cages hang, and one goes to another nuc: the other hangs still',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.hung({ queenId: 'queen-two' })],
    ['day 10, 11:00', { kind: 'cage-taken-out', queen: 'in-the-cage', forAnotherNuc: true }],
  ],
  expect: [{ on: 'day 10, 12:00', stands: 'queen caged', notDue: ['Take one of the two cages out'] }],
};
