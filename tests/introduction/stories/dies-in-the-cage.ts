import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she dies in her cage: the next one is hung',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.atCage({ queenAlive: false })],
    ['day 13, 12:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'let her out': 'stop' },
      offered: ['The next queen arrives'],
      notDue: ['Open the candy end', 'Hang the cage'],
    },
    { on: 'day 13, 13:00', due: ['Hang the cage'] },
  ],
};
