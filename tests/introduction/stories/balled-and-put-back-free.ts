import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled days after her eggs, rescued, and out of the hand into the nuc: her days outside begin again, and she is not accepted yet',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 20, 10:00', { kind: 'balled', rescued: true }],
    ['day 20, 10:05', { kind: 'queen-escaped', to: 'into-the-nuc' }],
  ],
  expect: [
    { on: 'day 20, 12:00', stage: 'hands-off', may: { 'look for her': 'stop' } },
    { on: 'day 27, 12:00', stage: 'check-due', due: ['Look for the queen'] },
  ],
};
