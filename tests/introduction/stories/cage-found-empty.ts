import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the cage is found empty and nobody opened it',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.looked({ cageEmpty: true, queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'stop' },
      says: 'without being let out',
      stage: 'hands-off',
    },
  ],
};
