import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she laid, was balled, rescued and caged again: larvae of hers are left for a week',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false })],
    ['day 18, 10:00', { kind: 'balled', rescued: true }],
    ['day 18, 10:15', wrote.hung()],
    ['day 19, 10:00', wrote.cut()],
    ['day 22, 10:00', wrote.atCage()],
  ],
  expect: [
    { on: 'day 22, 12:00', may: { 'let her out': 'wait' }, says: 'may still be young enough for a queen' },
    { on: 'day 17, 12:00', stage: 'accepted' },
  ],
};
