import { wrote, type Story } from '../support/story.ts';

const noBrood = { framesOfSealedBrood: 0, framesOfOpenBrood: 0 };

export const story: Story = {
  name: 'a split was logged without brood, and a patch of larvae is found: it had some, and the cuts of days 7 and 10 stand',
  diary: [
    ['day 0, 10:00', wrote.split(noBrood)],
    ['day 1, 10:00', wrote.hung()],
    ['day 3, 10:00', wrote.inspection({ youngestBrood: 'young-larvae' })],
  ],
  expect: [
    {
      on: 'day 3, 12:00',
      may: { 'let her out': 'wait', 'cut the cells': 'wait' },
      planned: { 'cut-cells': 7, 'second-look': 10 },
      contradictions: 0,
    },
  ],
};
