import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she came late: the nuc is opened to let her out, and every frame is looked through once more in that visit',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 3 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 13, 9:00', wrote.arrived()],
    ['day 13, 10:00', wrote.hung()],
    ['day 14, 10:10', wrote.cut()],
  ],
  expect: [
    { on: 'day 13, 12:00', notDue: ['One more look for cells'], planned: { 'one-more-look': 14 } },
    {
      on: 'day 14, 10:05',
      may: { 'let her out': 'go' },
      due: ['One more look for cells', 'Open the candy end'],
    },
    { on: 'day 14, 10:30', notDue: ['One more look for cells'], due: ['Open the candy end'] },
    // Both go together: their last day is the same, and does not move on with today.
    { on: 'day 17, 9:00', latest: { 'one-more-look': 23, 'open-candy': 23 } },
    { on: 'day 18, 9:00', latest: { 'one-more-look': 23, 'open-candy': 23 } },
  ],
};
