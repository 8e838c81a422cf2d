import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'no cell on the test frame: the queen that held the bees back is looked for, and no look is called one in passing',
  diary: [
    ...usualCourse,
    ['day 10, 12:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 12:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 0 })],
  ],
  expect: [
    {
      on: 'day 12, 14:00',
      may: { 'let her out': 'stop' },
      due: ['Find the loose queen and take her away'],
      without: ['one-more-look'],
    },
  ],
};
