import { wrote, type Story } from '../support/story.ts';

// Bees with laying workers seldom start queen cells on a frame that they are given: common practice.
export const story: Story = {
  name: 'long without a queen, and cells on a test frame: the chance of laying workers falls with them',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 24, 9:00', wrote.arrived()],
    ['day 24, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 24, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 26, 10:00', wrote.broodTaken({ cellsOnIt: 6 })],
    ['day 26, 10:10', wrote.hung()],
    ['day 27, 11:00', wrote.atCage()],
  ],
  expect: [{ on: 'day 28, 11:00', may: { 'let her out': 'go' }, notSays: 'Look for laying workers first' }],
};
