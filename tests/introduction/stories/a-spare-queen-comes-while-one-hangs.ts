import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a second queen comes while the first hangs in her cage: she is a spare, and hangs where the first dies',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 8, 9:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 9, 10:00', wrote.atCage({ queenAlive: false })],
  ],
  expect: [
    {
      on: 'day 8, 12:00',
      may: { 'hang the cage': 'stop' },
      says: 'A caged queen hangs in this nuc',
      notDue: ['Hang the cage'],
      planned: { 'second-look': 10, 'open-candy': 10 },
    },
    { on: 'day 9, 12:00', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
  ],
};
