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
    // The plan ordered the cut of day 7, and it counts: with a queen in there eggs would be found.
    {
      on: 'day 8, 12:00',
      may: { 'let her out': 'wait' },
      planned: { 'second-look': 10, 'open-candy': 10 },
      notDue: ['Cut the cells'],
    },
    // By the youngest brood the last egg may be of day 2 all the same: that is in the chance.
    {
      on: 'day 11, 9:00',
      may: { 'let her out': 'wait' },
      says: 'One more look',
      due: ['One more look for cells'],
    },
    { on: 'day 13, 12:00', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
