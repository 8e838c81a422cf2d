import { usualCourse, wrote, type Story } from '../support/story.ts';

const missed = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'not found twice, and cells on the test frame: she is gone, and nobody is sent to look for her',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', missed],
    ['day 23, 10:00', missed],
    ['day 24, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 26, 10:00', wrote.broodTaken({ cellsOnIt: 3 })],
  ],
  expect: [
    {
      on: 'day 27, 12:00',
      stage: 'failed',
      may: { 'look for her': 'wait' },
      says: 'Nobody is left to look for',
      offered: ['The next queen arrives'],
    },
  ],
};
