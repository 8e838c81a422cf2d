import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eight cells on day 7 and four more on day 10: one more look comes first',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 7 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({ sealed: 4 })],
    ['day 10, 10:10', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Chance that a dangerous cell was missed',
      notDue: ['Open the candy end'],
    },
    { on: 'day 11, 9:00', may: { 'cut the cells': 'go' }, notDue: ['Open the candy end'] },
    // No look settles it from day 13 on: the last day for the frame stays.
    { on: 'day 14, 9:00', planned: { 'test-frame-in': 14 }, latest: { 'test-frame-in': 18 } },
    { on: 'day 17, 9:00', planned: { 'test-frame-in': 17 }, latest: { 'test-frame-in': 18 } },
  ],
};
