import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was not seen, no cell stood at the split: cells on day 7, no egg on any frame',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 7, 10:00', wrote.cut({ sealed: 9 }, { youngestBrood: 'old-larvae' })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 13, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
  ],
  expect: [
    { on: 'day 3, 10:00', may: { 'let her out': 'wait' } },
    { on: 'day 13, 12:00', may: { 'let her out': 'go' } },
  ],
};
