import { wrote, type Story } from '../support/story.ts';

const noBrood = { framesOfSealedBrood: 0, framesOfOpenBrood: 0 };

export const story: Story = {
  name: 'a split without brood gets a frame of eggs on day 5: cells are cut a week after it',
  diary: [
    ['day 0, 10:00', wrote.split(noBrood)],
    ['day 1, 10:00', wrote.hung()],
    ['day 2, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 5, 10:00', wrote.broodAdded()],
  ],
  expect: [
    {
      on: 'day 6, 12:00',
      may: { 'let her out': 'wait', 'cut the cells': 'wait' },
      planned: { 'cut-cells': 12, 'second-look': 15 },
    },
  ],
};
