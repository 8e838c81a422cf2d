import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'seen on day 17 without eggs, and without eggs on day 24: two weeks after her release she is failing',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 25, 10:00', wrote.looked({ eggsSeen: false })],
  ],
  expect: [
    { on: 'day 17, 12:00', may: { 'hang the cage': 'stop' }, notDue: ['Hang the cage'] },
    { on: 'day 26, 12:00', offered: ['Unite it, or shake it out'] },
  ],
};
