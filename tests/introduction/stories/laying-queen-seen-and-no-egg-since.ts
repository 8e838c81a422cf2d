import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a laying queen was seen, and four days later no egg stands on any frame: a test frame tells whether she is there',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1 })],
    ['day 8, 10:00', wrote.inspection({ layingQueenSeen: true })],
    ['day 12, 10:00', wrote.inspection({ youngestBrood: 'sealed-only' })],
    ['day 12, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 14, 10:30', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 19, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 21, 10:00', wrote.broodTaken({ cellsOnIt: 0 })],
  ],
  expect: [
    { on: 'day 8, 12:00', due: ['Find the loose queen and take her away'] },
    {
      on: 'day 12, 10:15',
      may: { 'hang the cage': 'stop' },
      due: ['Put a test frame in'],
      without: ['take-queen-out'],
    },
    { on: 'day 14, 12:00', due: ['Find the loose queen and take her away'] },
    { on: 'day 21, 12:00', due: ['Unite it, or shake it out'], without: ['take-queen-out'] },
  ],
};
