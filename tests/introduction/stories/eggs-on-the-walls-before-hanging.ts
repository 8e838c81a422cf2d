import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs on the cell walls of a nuc without a queen: no queen is hung among laying workers',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 24, 10:00', wrote.inspection({ youngestBrood: 'eggs', eggsStand: 'walls' })],
  ],
  expect: [{ on: 'day 24, 12:00', may: { 'hang the cage': 'stop' }, says: 'Eggs on the cell walls' }],
};
