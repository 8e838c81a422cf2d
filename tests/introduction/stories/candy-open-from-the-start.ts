import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the cage was hung with its candy open, and no cell was cut: tape it again the same day',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 4, 10:00', wrote.hung({ candyEnd: 'open' })],
    ['day 4, 12:00', wrote.hung()],
  ],
  expect: [
    {
      on: 'day 4, 10:10',
      may: { 'hang the cage': 'go' },
      due: ['Tape the candy end again'],
      todo: { 'close-candy': ['If she is out'] },
    },
    {
      on: 'day 4, 12:10',
      without: ['close-candy'],
      may: { 'let her out': 'wait' },
      planned: { 'cut-cells': 7, 'open-candy': 10 },
    },
  ],
};
