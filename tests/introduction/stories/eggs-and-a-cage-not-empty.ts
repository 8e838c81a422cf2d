import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs a week after the candy was opened, and the cage not empty: nothing is accepted before it is known who sits in it',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ cageEmpty: false, queenSeen: false })],
    ['day 18, 10:00', wrote.looked()],
  ],
  expect: [
    {
      on: 'day 17, 10:10',
      stage: 'check-due',
      due: ['See who sits in the cage'],
      without: ['free-queen', 'graft'],
    },
    { on: 'day 18, 10:10', stage: 'accepted', without: ['look-again'] },
  ],
};
