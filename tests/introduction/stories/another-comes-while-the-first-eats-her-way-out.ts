import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two days after the release another queen is logged for the nuc: the first is left alone until her days are over',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 12, 9:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 17, 10:00', wrote.looked()],
  ],
  expect: [
    {
      on: 'day 12, 10:00',
      may: { 'hang the cage': 'stop', 'look for her': 'stop' },
      says: 'nobody has looked for her since',
      notSays: 'That she was not found',
      blocked: ['Hang the cage'],
      notDue: ['Look for the queen'],
      planned: { 'look-again': 17 },
    },
    // Her days outside are over at half past ten: the last day for the look is the same before and after.
    { on: 'day 16, 10:00', latest: { 'look-again': 17 } },
    { on: 'day 16, 12:00', latest: { 'look-again': 17 } },
    { on: 'day 17, 12:00', stage: 'accepted' },
  ],
};
