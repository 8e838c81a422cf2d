import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled and rescued: the cause is looked for, she is caged again, the bees are watched',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 12, 10:00', { kind: 'balled', rescued: true }],
    ['day 12, 10:15', wrote.hung()],
    ['day 13, 10:00', wrote.cut()],
  ],
  expect: [
    { on: 'day 12, 11:00', may: { 'let her out': 'stop' }, due: ['Look through every frame'] },
    { on: 'day 15, 9:00', blocked: ['Open the candy end'], due: ['Watch the bees at the cage'] },
  ],
};
