import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Common practice: a queen that flew off may be back. The nuc is shut for four days, and opened once, for her and for cells. */
export const story: Story = {
  name: 'she flew off at the cut: the second look is made in the visit that looks for her',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 7, 10:20', wrote.arrived()],
    ['day 7, 10:40', { kind: 'queen-escaped', to: 'outside' }],
  ],
  expect: [
    {
      on: 'day 8, 12:00',
      may: { 'cut the cells': 'wait', 'look for her': 'wait' },
      until: { 'cut the cells': 11, 'look for her': 11 },
      planned: { 'second-look': 11, 'look-again': 11 },
    },
    {
      on: 'day 10, 12:00',
      may: { 'cut the cells': 'wait' },
      until: { 'cut the cells': 11 },
      says: 'often comes back',
      notDue: ['Second look for cells', 'Look for the queen'],
    },
    {
      on: 'day 11, 9:00',
      may: { 'cut the cells': 'go', 'look for her': 'go' },
      due: ['Second look for cells', 'Look for the queen'],
    },
  ],
};
