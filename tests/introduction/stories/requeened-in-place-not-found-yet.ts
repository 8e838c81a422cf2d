import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place: the old queen is not found at three visits; her eggs contradict nothing',
  setup: { startingPoint: 'requeened-in-place' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 3, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 6, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
  ],
  expect: [{ on: 'day 6, 12:00', stage: 'planned', contradictions: 0, planned: { 'cut-cells': 14 } }],
};
