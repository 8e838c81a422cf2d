import { usualCourse, wrote, type Story } from '../support/story.ts';

/** A virgin emerges 16 days after her egg was laid (Mussen et al. 1987): none before day 8½. Common practice: one that flew off may be back. */
export const story: Story = {
  name: 'she flew off two days before the cut: it is put off to its last day, and she is looked for with it',
  diary: [
    ...usualCourse.slice(0, 1),
    ['day 4, 10:00', wrote.arrived()],
    ['day 5, 10:00', { kind: 'queen-escaped', to: 'outside' }],
  ],
  expect: [
    {
      on: 'day 7, 12:00',
      may: { 'cut the cells': 'wait', 'look for her': 'wait' },
      until: { 'cut the cells': 8, 'look for her': 8 },
      planned: { 'cut-cells': 8, 'look-again': 8 },
    },
    {
      on: 'day 8, 9:00',
      may: { 'cut the cells': 'go', 'look for her': 'go' },
      due: ['Cut the cells', 'Look for the queen'],
    },
  ],
};
