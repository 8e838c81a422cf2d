import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'go on day 10; once biting is logged, a cell or a virgin, the answer is another',
  diary: [
    ...usualCourse,
    ['day 10, 10:20', wrote.atCage()],
    ['day 10, 10:30', wrote.atCage({ behaviour: 'biting' })],
    ['day 11, 10:00', wrote.atCage()],
    ['day 11, 10:10', wrote.inspection({ youngestBrood: 'not-looked', cells: { open: 0, sealed: 1 } })],
    ['day 11, 10:20', wrote.cut({ sealed: 1 }, { youngestBrood: 'sealed-only', virginSeen: true })],
  ],
  expect: [
    { on: 'day 10, 10:29', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
    {
      on: 'day 10, 10:30',
      may: { 'let her out': 'stop' },
      says: 'They bite, cling or try to sting',
      blocked: ['Open the candy end'],
    },
    { on: 'day 11, 10:00', may: { 'let her out': 'go' } },
    {
      on: 'day 11, 10:10',
      may: { 'let her out': 'wait' },
      says: 'A living queen cell was seen and left',
      notDue: ['Open the candy end'],
    },
    { on: 'day 11, 10:20', may: { 'let her out': 'stop' }, says: 'A virgin was seen' },
  ],
};
