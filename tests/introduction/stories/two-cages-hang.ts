import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a second cage is hung beside the first: one is taken out before either is opened',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 7, 11:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 10, 10:00', wrote.cut()],
    ['day 10, 10:10', wrote.atCage()],
    ['day 10, 10:20', { kind: 'cage-taken-out', queen: 'in-the-cage' }],
  ],
  expect: [
    { on: 'day 7, 12:00', due: ['Take one of the two cages out'] },
    {
      on: 'day 10, 10:15',
      may: { 'let her out': 'stop' },
      says: 'two caged queens hang',
      due: ['Take one of the two cages out'],
      notDue: ['Open the candy end'],
    },
    {
      on: 'day 10, 10:30',
      may: { 'let her out': 'go' },
      due: ['Open the candy end'],
      without: ['take-cage-out'],
    },
  ],
};
