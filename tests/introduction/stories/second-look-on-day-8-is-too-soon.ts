import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'looked again on day 8, a day after the cut: that is not the second look',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 8, 10:00', wrote.cut()],
    ['day 8, 10:30', wrote.atCage()],
  ],
  expect: [
    { on: 'day 9, 12:00', may: { 'let her out': 'wait' }, notDue: ['Open the candy end'] },
    {
      on: 'day 10, 9:00',
      may: { 'let her out': 'wait' },
      due: ['Second look for cells'],
      notDue: ['Open the candy end'],
    },
  ],
};
