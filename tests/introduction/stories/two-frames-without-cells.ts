import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'no cell on two test frames, and nobody finds the queen: no third frame, the nuc is united',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 11:00', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 16, 11:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 18, 11:00', wrote.broodTaken({ cellsOnIt: 0 })],
  ],
  expect: [
    {
      on: 'day 13, 9:00',
      may: { 'let her out': 'stop' },
      due: ['Find the loose queen and take her away'],
      notDue: ['Put a test frame in'],
    },
    {
      on: 'day 19, 9:00',
      may: { 'hang the cage': 'stop' },
      due: ['Unite it, or shake it out'],
      notDue: ['Put a test frame in'],
    },
  ],
};
