import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'her eggs but no sealed brood at its check: looked for again some days later, not daily',
  diary: [
    ...usualCourse,
    ['day 10, 10:10', wrote.atCage()],
    ['day 10, 10:20', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ eggsSeen: true })],
  ],
  expect: [
    { on: 'day 28, 12:00', notDue: ['Check the sealed brood'] },
    { on: 'day 31, 12:00', due: ['Check the sealed brood'] },
  ],
};
