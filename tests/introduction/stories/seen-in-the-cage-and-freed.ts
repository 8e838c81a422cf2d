import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'watched at the cage five days after the candy was opened, she sits in it: she is freed, and her days outside begin then',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 12, 10:00', wrote.atCage()],
    ['day 15, 10:00', wrote.atCage()],
    ['day 15, 12:00', wrote.opened()],
  ],
  expect: [
    { on: 'day 12, 12:00', without: ['free-queen'], stands: 'candy open' },
    {
      on: 'day 15, 11:00',
      due: ['Free her from the cage'],
      stands: 'Her way out was opened, and she is still in the cage.',
      may: { 'look for her': 'stop' },
    },
    { on: 'day 15, 13:00', without: ['free-queen'], stands: 'hands off' },
    { on: 'day 19, 12:00', due: ['Look for the queen'] },
  ],
};
