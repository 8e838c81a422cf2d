import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she got out of the cage by accident on day 7',
  diary: [...usualCourse.slice(0, 3), ['day 7, 10:40', { kind: 'queen-escaped', to: 'into-the-nuc' }]],
  expect: [
    {
      on: 'day 8, 10:00',
      may: { 'let her out': 'stop', 'hang the cage': 'stop', 'look for her': 'stop' },
      says: 'without being let out',
      stage: 'hands-off',
      notDue: ['Open the candy end'],
      todo: { 'look-for-queen': ['got out by accident'] },
    },
    { on: 'day 14, 12:00', stage: 'check-due', may: { 'look for her': 'go' } },
  ],
};
