import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'her sealed brood was seen, and weeks later an inspection of every frame finds no brood: she is looked for, nothing is grafted',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
    ['day 45, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    {
      on: 'day 45, 12:00',
      stage: 'check-due',
      stands: 'not found',
      without: ['graft'],
      planned: { 'look-again': 49 },
      finding: 'failing',
    },
  ],
};
