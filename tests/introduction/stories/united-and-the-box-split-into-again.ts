import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'workers laid, the bees were united, and a new split stands in the box: nothing of them is in it',
  before: {
    diary: [
      ['day 0, 10:00', wrote.split()],
      ['day 24, 10:00', wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
      ['day 24, 11:00', { kind: 'outcome', outcome: 'united' }],
    ],
  },
  diary: [
    ['day 30, 10:00', wrote.split()],
    ['day 31, 10:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 31, 12:00',
      may: { 'hang the cage': 'go' },
      due: ['Hang the cage'],
      without: ['unite'],
      planned: { 'cut-cells': 37 },
    },
  ],
};
