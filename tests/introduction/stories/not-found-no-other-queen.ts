import { usualCourse, wrote, type Story } from '../support/story.ts';

const notFound = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'not found twice, cells on the test frame: concluded, and only then another queen',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', notFound],
    ['day 22, 10:00', notFound],
    ['day 23, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 25, 10:00', wrote.broodTaken({ cellsOnIt: 6 })],
  ],
  expect: [
    { on: 'day 18, 12:00', stage: 'check-due', may: { 'hang the cage': 'stop' } },
    { on: 'day 22, 9:00', stage: 'check-due', due: ['Look again for the queen'] },
    { on: 'day 22, 12:00', stage: 'check-due', may: { 'hang the cage': 'stop' } },
    { on: 'day 23, 9:00', due: ['Put a test frame in'], notDue: ['Hang the cage'] },
    { on: 'day 25, 12:00', stage: 'failed', may: { 'hang the cage': 'wait' } },
  ],
};
