import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she is met the day after the candy was opened, too soon to tell: she is looked for on her day all the same',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 11, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 17, 11:00', wrote.looked()],
  ],
  expect: [
    { on: 'day 12, 10:00', may: { 'look for her': 'stop' }, planned: { 'look-for-queen': 17 } },
    { on: 'day 17, 10:30', may: { 'look for her': 'go' }, stands: 'check due', due: ['Look for the queen'] },
    { on: 'day 17, 12:00', stage: 'accepted', notDue: ['Look for the queen'] },
  ],
};
