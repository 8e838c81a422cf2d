import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'weeks after her sealed brood neither she nor an egg is found: nothing is grafted from her',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
    ['day 45, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    { on: 'day 27, 12:00', offered: ['Graft from her'], finding: 'worker-brood' },
    {
      on: 'day 45, 12:00',
      without: ['graft'],
      finding: 'failing',
      findingSays: 'neither she nor eggs',
    },
  ],
};
