import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopeless, hung days after the frame: workers may have begun to lay, and the visit that lets her out looks first',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 2, 10:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 3 })],
    ['day 5, 11:00', wrote.arrived()],
    ['day 5, 12:00', wrote.hung()],
    ['day 7, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 7, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 7, 9:30', may: { 'let her out': 'wait' }, says: 'workers', due: ['Look through every frame'] },
    { on: 'day 7, 10:30', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
