import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Common practice: a queen that flew off may be back, and the nuc is shut for four days. */
export const story: Story = {
  name: 'she flew off after the second look: no look for cells and no test frame before she is looked for',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({ sealed: 3 })],
    ['day 11, 10:00', { kind: 'queen-escaped', to: 'outside' }],
  ],
  expect: [
    { on: 'day 12, 12:00', blocked: ['One more look for cells'], planned: { 'look-again': 15 } },
    { on: 'day 14, 12:00', blocked: ['Put a test frame in'], until: { 'look for her': 15 } },
    { on: 'day 15, 9:00', due: ['Put a test frame in', 'Look for the queen'] },
  ],
};
