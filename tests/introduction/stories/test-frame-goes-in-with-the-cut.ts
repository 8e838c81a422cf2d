import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'cells of unknown age: the test frame goes in with the cut that counts and comes out at the second look',
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 0, 10:00', wrote.cut({ open: 4, sealed: 2 }, { youngestBrood: 'young-larvae' })],
    ['day 4, 10:00', wrote.cut({ sealed: 9 }, { youngestBrood: 'old-larvae' })],
    ['day 4, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 7, 10:00', wrote.broodTaken({ cellsOnIt: 3 })],
    ['day 7, 10:20', wrote.cut({}, { youngestBrood: 'sealed-only' })],
  ],
  expect: [
    { on: 'day 1, 12:00', planned: { 'cut-cells': 4, 'test-frame-in': 4 } },
    { on: 'day 4, 10:20', due: ['Put a test frame in'] },
    // The frame comes out whole: it moves neither the cut nor the second look.
    { on: 'day 5, 12:00', planned: { 'second-look': 7, 'test-frame-out': 7 } },
    { on: 'day 7, 12:00', notDue: ['Second look for cells', 'Put a test frame in'] },
  ],
};
