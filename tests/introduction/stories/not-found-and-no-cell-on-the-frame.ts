import { usualCourse, wrote, type Story } from '../support/story.ts';

const notFound = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'not found twice, no cell on the test frame: she is looked for again, not tested again',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', notFound],
    ['day 22, 10:00', notFound],
    ['day 23, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 25, 10:00', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 27, 10:00', notFound],
  ],
  expect: [
    {
      on: 'day 26, 9:00',
      due: ['Look again for the queen'],
      notDue: ['Put a test frame in', 'Hang the cage'],
      may: { 'hang the cage': 'stop' },
    },
    { on: 'day 28, 9:00', notDue: ['Put a test frame in'], offered: ['Unite it, or shake it out'] },
    { on: 'day 29, 9:00', due: ['Put a test frame in'] },
  ],
};
