import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'not found once, and another is let out: her days outside count, not the looks for the one before',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 18, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 18, 10:05', wrote.opened()],
    ['day 25, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    { on: 'day 18, 12:00', due: ['Tape the candy end again'], may: { 'look for her': 'stop' } },
    {
      on: 'day 22, 9:00',
      may: { 'look for her': 'stop' },
      notDue: ['Look again for the queen', 'Look for the queen', 'Put a test frame in'],
      until: { 'look for her': 24 },
    },
    { on: 'day 25, 9:00', due: ['Look for the queen'], notDue: ['Look again for the queen'] },
    {
      on: 'day 25, 12:00',
      stands: 'not found',
      notDue: ['Put a test frame in', 'Look again for the queen'],
      planned: { 'look-again': 29 },
    },
  ],
};
