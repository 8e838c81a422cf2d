import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'bees bite at the cage: the bees are watched the next day, and that settles it',
  diary: [
    ...usualCourse,
    ['day 10, 10:20', wrote.atCage({ behaviour: 'biting' })],
    ['day 12, 10:00', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', blocked: ['Open the candy end'], planned: { 'watch-cage': 11 } },
    { on: 'day 11, 9:00', blocked: ['Open the candy end'], due: ['Watch the bees at the cage'] },
    { on: 'day 12, 12:00', may: { 'let her out': 'go' }, without: ['watch-cage'] },
  ],
};
