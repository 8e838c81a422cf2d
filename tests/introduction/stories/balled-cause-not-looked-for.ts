import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled and caged again: calm for days, but nobody looked for a cell or a virgin',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 12, 10:00', { kind: 'balled', rescued: true }],
    ['day 12, 10:15', wrote.hung()],
    ['day 15, 12:00', wrote.atCage()],
  ],
  expect: [{ on: 'day 16, 12:00', may: { 'let her out': 'stop' }, says: 'cause' }],
};
