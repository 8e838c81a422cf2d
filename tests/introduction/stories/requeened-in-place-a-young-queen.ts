import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place: the queen that is found is a young one, and not the old one that was meant; the days count from her',
  setup: { startingPoint: 'requeened-in-place' },
  diary: [
    ['day 0, 10:00', { kind: 'queen-removed', which: 'young-queen', cellsAlreadyThere: 'none' }],
    ['day 1, 9:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 1, 10:00',
      may: { 'hang the cage': 'go' },
      due: ['Hang the cage'],
      planned: { 'cut-cells': 7 },
    },
  ],
};
