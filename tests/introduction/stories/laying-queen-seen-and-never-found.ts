import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a laying queen was seen, and two looks did not find her: a test frame tells, and cells on it end the search',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1 })],
    ['day 8, 10:00', wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
    ['day 9, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 12, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 12, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 14, 10:30', wrote.broodTaken({ cellsOnIt: 3 })],
  ],
  expect: [
    {
      on: 'day 8, 12:00',
      due: ['Find the loose queen and take her away'],
      without: ['test-frame-in'],
    },
    { on: 'day 9, 12:00', due: ['Find the loose queen and take her away'] },
    {
      on: 'day 12, 10:15',
      due: ['Put a test frame in'],
      without: ['take-queen-out'],
      may: { 'hang the cage': 'stop' },
    },
    { on: 'day 14, 12:00', may: { 'hang the cage': 'go' }, without: ['take-queen-out', 'test-frame-in'] },
  ],
};
