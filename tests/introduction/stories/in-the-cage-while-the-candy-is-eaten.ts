import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a look two days after the opening finds her in the cage: the bees have three days for the candy, and nobody frees her',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 12, 10:00', wrote.looked({ cageEmpty: false, eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 12, 12:00',
      stage: 'candy-open',
      may: { 'let her out': 'stop' },
      without: ['free-queen', 'look-again'],
    },
    { on: 'day 17, 12:00', due: ['Look for the queen'] },
  ],
};
