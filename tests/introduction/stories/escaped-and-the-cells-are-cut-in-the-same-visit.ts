import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she slips out as she is hung, and the cells are cut in the same visit: one look for her, which looks for cells too',
  diary: [
    ...usualCourse.slice(0, 1),
    ['day 7, 9:00', wrote.arrived()],
    ['day 7, 10:00', { kind: 'queen-escaped', to: 'into-the-nuc' }],
    ['day 7, 10:20', wrote.cut({ open: 1, sealed: 8 })],
  ],
  expect: [
    {
      on: 'day 7, 12:00',
      without: ['look-again'],
      planned: { 'look-for-queen': 10 },
      todo: { 'look-for-queen': ['Look for cells on every frame'] },
    },
  ],
};
