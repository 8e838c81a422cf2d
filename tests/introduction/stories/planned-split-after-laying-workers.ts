import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the nuc had laying workers; its bees are used for a planned split',
  before: {
    diary: [
      ['day 0, 10:00', wrote.split()],
      ['day 24, 10:00', wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
      ['day 24, 11:00', { kind: 'outcome', outcome: 'given-up' }],
    ],
  },
  diary: [
    ['day 25, 10:00', wrote.split()],
    ['day 26, 10:00', wrote.arrived()],
  ],
  expect: [{ on: 'day 26, 11:00', may: { 'hang the cage': 'stop' }, says: 'Workers are laying' }],
};
