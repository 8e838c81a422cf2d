import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she is seen, and lays nothing for two weeks: that is no acceptance, and there is no sealed brood to check',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 25, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 30, 10:00', wrote.looked({ eggsSeen: true })],
  ],
  expect: [
    { on: 'day 18, 12:00', stage: 'accepted' },
    {
      on: 'day 25, 12:00',
      stage: 'check-due',
      stands: 'no egg two weeks after',
      without: ['check-sealed-brood'],
      offered: ['Unite it, or shake it out'],
    },
    { on: 'day 30, 12:00', stage: 'accepted', without: ['unite'] },
  ],
};
