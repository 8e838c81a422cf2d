import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was not seen at the split, and eggs are seen on day 4: she is looked for, and no test frame is asked for',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 4, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
  ],
  expect: [
    {
      on: 'day 4, 12:00',
      due: ['Find the loose queen and take her away'],
      without: ['test-frame-in', 'test-frame-out'],
    },
  ],
};
