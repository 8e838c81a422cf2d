import { wrote, type Story } from '../support/story.ts';

const noBrood = { framesOfSealedBrood: 0, framesOfOpenBrood: 0 };

export const story: Story = {
  name: 'a split without any brood: no cell can be built in it, so one look comes before she is let out, and no cut of day 7',
  diary: [
    ['day 0, 10:00', wrote.split(noBrood)],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 10:30', wrote.hung()],
    ['day 3, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 5, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    {
      on: 'day 0, 12:00',
      stands: 'foragers leaving',
      without: ['cut-cells', 'second-look', 'early-cut'],
      may: { 'cut the cells': 'go', 'hang the cage': 'go' },
    },
    { on: 'day 1, 12:00', planned: { 'open-candy': 3 }, due: [] },
    {
      on: 'day 3, 9:00',
      may: { 'let her out': 'wait' },
      says: 'No complete look (every frame, bees shaken off) is logged.',
      due: ['Look through every frame'],
    },
    {
      on: 'day 3, 12:00',
      may: { 'let her out': 'go' },
      due: ['Open the candy end'],
      without: ['cut-cells', 'second-look'],
    },
    { on: 'day 5, 12:00', may: { 'let her out': 'go' }, without: ['test-frame-in'] },
  ],
};
