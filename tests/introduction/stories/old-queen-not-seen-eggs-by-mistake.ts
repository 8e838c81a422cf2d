import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs were taken for seen on day 5, the old queen not seen: a look on every frame without any clears it',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 5, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 9, 10:00', wrote.cut({ sealed: 5 }, { youngestBrood: 'sealed-only' })],
    ['day 9, 11:00', wrote.arrived()],
  ],
  expect: [
    { on: 'day 5, 12:00', may: { 'hang the cage': 'stop' } },
    { on: 'day 9, 12:00', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
  ],
};
