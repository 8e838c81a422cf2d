import { usualCourse, type Story } from '../support/story.ts';

/** Common practice: what the first cut missed is cut within four days, whether or not she may be back. */
export const story: Story = {
  name: 'she flew off two days after the cut: the second look can’t wait for her days, and she is looked for with it',
  diary: [...usualCourse.slice(0, 3), ['day 9, 10:00', { kind: 'queen-escaped', to: 'outside' }]],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'cut the cells': 'wait', 'look for her': 'wait' },
      until: { 'cut the cells': 11, 'look for her': 11 },
      planned: { 'second-look': 11, 'look-again': 11 },
    },
    {
      on: 'day 11, 9:00',
      may: { 'cut the cells': 'go', 'look for her': 'go' },
      due: ['Second look for cells', 'Look for the queen'],
    },
  ],
};
