import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'signs of brood disease were ruled out before the last introduction ended: nothing is carried over',
  before: {
    diary: [
      ['day 0, 10:00', wrote.split()],
      ['day 12, 10:00', { kind: 'brood-disease', found: 'signs' }],
      ['day 14, 10:00', { kind: 'brood-disease', found: 'ruled-out' }],
      ['day 14, 11:00', { kind: 'outcome', outcome: 'given-up' }],
    ],
  },
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 25, 9:00', wrote.arrived()],
    ['day 25, 10:00', wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
  ],
  expect: [{ on: 'day 25, 11:00', due: ['Unite it, or shake it out'], without: ['call-inspector'] }],
};
