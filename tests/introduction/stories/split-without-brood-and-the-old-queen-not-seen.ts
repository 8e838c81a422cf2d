import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a split without brood at which the old queen was not seen: she may lay in it, so the usual days stand',
  diary: [
    ['day 0, 10:00', wrote.split({ framesOfSealedBrood: 0, framesOfOpenBrood: 0, oldQueen: 'not-seen' })],
  ],
  expect: [{ on: 'day 1, 12:00', planned: { 'cut-cells': 7 } }],
};
