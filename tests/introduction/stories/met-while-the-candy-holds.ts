import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a laying queen walks on a comb two hours after the candy was opened: it is another one, also once she is dead',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 10, 12:30', wrote.inspection({ layingQueenSeen: true })],
    ['day 17, 10:00', { kind: 'queen-dead' }],
    ['day 18, 10:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    {
      on: 'day 18, 12:00',
      may: { 'hang the cage': 'stop' },
      says: 'A laying queen was seen walking free',
      due: ['Find the loose queen and take her away'],
      stands: 'a queen is in it',
    },
  ],
};
