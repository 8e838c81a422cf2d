import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled after the release, rescued and caged again: bees feed her the next day',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 14, 10:00', { kind: 'balled', rescued: true }],
    ['day 14, 10:15', wrote.hung()],
    ['day 15, 12:00', wrote.atCage()],
    ['day 16, 10:00', wrote.cut()],
    ['day 18, 10:00', wrote.atCage()],
  ],
  expect: [
    { on: 'day 15, 12:30', may: { 'let her out': 'stop' }, says: 'balled', notDue: ['Open the candy end'] },
    // The cause was looked for; the bees had a day and a half since.
    { on: 'day 16, 11:00', may: { 'let her out': 'wait' }, says: 'balled', notDue: ['Open the candy end'] },
    { on: 'day 18, 9:00', may: { 'let her out': 'wait' }, says: 'calm' },
    { on: 'day 18, 11:00', may: { 'let her out': 'go' } },
  ],
};
