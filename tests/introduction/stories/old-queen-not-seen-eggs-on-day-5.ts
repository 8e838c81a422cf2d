import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was not seen at the split, and eggs stand on day 5: she is in it, and is found first',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 5, 9:00', wrote.arrived()],
    ['day 5, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 6, 10:00', { kind: 'queen-removed', which: 'old-queen' }],
  ],
  expect: [
    {
      on: 'day 5, 12:00',
      may: { 'hang the cage': 'stop' },
      says: 'laid since the split',
      due: ['Find the loose queen and take her away'],
      notDue: ['Hang the cage'],
    },
    { on: 'day 6, 12:00', may: { 'hang the cage': 'go' }, planned: { 'cut-cells': 13 } },
  ],
};
