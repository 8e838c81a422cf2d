import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopeless, hung a day after the look: workers may have begun to lay, and the visit that lets her out looks first',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 1, 11:00', wrote.arrived()],
    ['day 1, 12:00', wrote.hung()],
    ['day 2, 10:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 3 })],
    ['day 3, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 3, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 3, 9:30', may: { 'let her out': 'wait' }, says: 'workers', due: ['Look through every frame'] },
    { on: 'day 3, 10:30', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
