import { usualCourse, wrote, type Story } from '../support/story.ts';

const notFound = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'she was not found: again after four days, then a test frame, then concluded',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', notFound],
    ['day 19, 10:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 22, 10:00', notFound],
    ['day 23, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 25, 10:00', wrote.broodTaken({ cellsOnIt: 6 })],
    ['day 25, 10:10', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    { on: 'day 18, 12:00', may: { 'hang the cage': 'stop' }, stage: 'check-due' },
    // Another queen at hand does not make the first one gone.
    { on: 'day 19, 12:00', may: { 'hang the cage': 'stop', 'let her out': 'stop' }, says: 'not found' },
    { on: 'day 22, 9:00', may: { 'hang the cage': 'stop' }, due: ['Look again for the queen'] },
    { on: 'day 23, 9:00', may: { 'hang the cage': 'stop' }, due: ['Put a test frame in'] },
    { on: 'day 25, 12:00', may: { 'hang the cage': 'go' } },
  ],
};
