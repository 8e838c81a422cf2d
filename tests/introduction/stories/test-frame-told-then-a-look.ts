import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'many cells at the second look, and cells on the test frame that went in then: a look comes next, not frame after frame',
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'young-larvae', layingQueenSeen: false })],
    ['day 4, 9:45', wrote.broodAdded({ asTestFrame: true })],
    ['day 4, 10:00', wrote.cut({ open: 18, sealed: 10 }, { youngestBrood: 'young-larvae' })],
    ['day 6, 8:30', wrote.arrived()],
    ['day 6, 9:45', wrote.hung()],
    ['day 7, 9:45', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 7 })],
    ['day 7, 10:00', wrote.cut({ sealed: 7 }, { youngestBrood: 'old-larvae' })],
    ['day 7, 10:15', wrote.broodAdded({ asTestFrame: true })],
    ['day 10, 9:45', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 5 })],
  ],
  expect: [
    {
      on: 'day 10, 9:50',
      may: { 'let her out': 'wait' },
      due: ['One more look for cells'],
      notDue: ['Put a test frame in'],
    },
  ],
};
