import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was not seen at the split: a look for eggs from day 4 on settles it',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 7, 10:00', wrote.cut({ sealed: 8 }, { youngestBrood: 'old-larvae' })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 13, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
  ],
  expect: [
    { on: 'day 5, 9:00', may: { 'let her out': 'wait' }, says: 'Look for eggs on every frame' },
    // By the youngest brood of day 7 the last egg may be of day 2.
    { on: 'day 11, 12:00', may: { 'let her out': 'wait' }, planned: { 'second-look': 13 } },
    { on: 'day 13, 12:00', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
