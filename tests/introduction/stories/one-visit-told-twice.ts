import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two people write down one visit that did not find her: it is one look, and no test frame is asked for yet',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 17, 10:20', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 17, 12:00',
      without: ['test-frame-in'],
      planned: { 'look-again': 21 },
      until: { 'look for her': 21 },
    },
  ],
};
