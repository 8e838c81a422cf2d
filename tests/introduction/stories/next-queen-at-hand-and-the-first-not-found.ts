import { usualCourse, wrote, type Story } from '../support/story.ts';

const missed = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'the next queen is at hand and the first was not found: the nuc says that she may be out',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', missed],
    ['day 21, 10:00', missed],
    ['day 22, 10:00', wrote.arrived({ queenId: 'next' })],
  ],
  expect: [
    {
      on: 'day 22, 12:00',
      may: { 'hang the cage': 'stop' },
      stands: 'A queen was let out before, and nothing shows that she is gone.',
    },
  ],
};
