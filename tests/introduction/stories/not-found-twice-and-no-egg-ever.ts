import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two looks find neither her nor an egg: a test frame is given, and no brood of hers is waited for',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 21, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 29, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    { on: 'day 18, 10:00', planned: { 'look-again': 21, 'check-sealed-brood': 27 } },
    {
      on: 'day 28, 10:00',
      due: ['Put a test frame in'],
      notDue: ['Check the sealed brood'],
      without: ['check-sealed-brood'],
    },
    { on: 'day 29, 12:00', stage: 'accepted', without: ['test-frame-in'] },
  ],
};
