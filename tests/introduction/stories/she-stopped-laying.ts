import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'her eggs were seen on day 17, and on days 27 and 31 she is there without eggs or brood: she is failing',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 31, 10:00', wrote.looked({ eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 27, 12:00',
      notDue: ['Check the sealed brood'],
      planned: { 'check-sealed-brood': 31 },
      without: ['unite'],
    },
    { on: 'day 31, 9:00', due: ['Check the sealed brood'] },
    {
      on: 'day 31, 12:00',
      offered: ['Unite it, or shake it out'],
      without: ['check-sealed-brood', 'graft'],
      todo: { unite: ['at the last one no egg was left'] },
    },
  ],
};
