import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a young queen that the colony raised lays by day 24; she is taken away and all begins anew',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 24, 10:00', wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
    ['day 24, 10:10', { kind: 'queen-removed', which: 'young-queen' }],
    ['day 24, 12:00', wrote.arrived()],
  ],
  expect: [
    { on: 'day 24, 10:05', may: { 'let her out': 'stop' }, says: 'A queen may be in the box' },
    { on: 'day 25, 10:00', may: { 'hang the cage': 'go', 'let her out': 'wait' } },
  ],
};
