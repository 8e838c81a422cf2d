import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'at the check of the sealed brood neither she nor an egg is found: she is looked for again, the check is not put off',
  diary: [
    ...usualCourse,
    ['day 10, 10:20', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    { on: 'day 27, 12:00', stage: 'check-due', stands: 'She was not found', planned: { 'look-again': 31 } },
  ],
};
