import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin was seen in a split whose old queen was not',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 8, 10:00', wrote.inspection({ virginSeen: true })],
    ['day 8, 12:00', wrote.arrived()],
  ],
  expect: [{ on: 'day 8, 13:00', may: { 'hang the cage': 'stop' }, says: 'A virgin was seen' }],
};
