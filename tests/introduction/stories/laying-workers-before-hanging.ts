import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'laying workers were seen, and nobody knows whether a queen is there',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
    ['day 2, 10:00', wrote.arrived()],
  ],
  expect: [{ on: 'day 2, 11:00', may: { 'hang the cage': 'stop' }, says: 'Workers are laying' }],
};
