import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'moved five metres: its foragers find it again',
  diary: [['day 0, 11:00', { kind: 'moved', metres: 5 }], ...usualCourse],
  expect: [
    { on: 'day 1, 12:00', stage: 'foragers-leaving' },
    { on: 'day 7, 9:00', may: { 'cut the cells': 'go' }, says: 'only 5 m' },
  ],
};
