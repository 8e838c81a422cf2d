import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled on the day of her release, rescued and caged again: the plan waits as long as the answer does',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 10, 14:00', { kind: 'balled', rescued: true }],
    ['day 10, 14:30', wrote.hung()],
    ['day 11, 10:00', wrote.inspection({ youngestBrood: 'sealed-only' })],
  ],
  expect: [{ on: 'day 11, 11:00', until: { 'let her out': 13 }, planned: { 'open-candy': 13 } }],
};
