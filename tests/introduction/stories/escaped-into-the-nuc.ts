import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she got out of the cage by accident on day 7: after three full days a look for her and for what the one cut missed',
  diary: [...usualCourse.slice(0, 3), ['day 7, 10:40', { kind: 'queen-escaped', to: 'into-the-nuc' }]],
  expect: [
    {
      on: 'day 8, 10:00',
      may: { 'let her out': 'stop', 'hang the cage': 'stop', 'look for her': 'stop' },
      says: 'without being let out',
      stage: 'hands-off',
      notDue: ['Open the candy end'],
      todo: { 'look-for-queen': ['got out by accident', 'Look for cells on every frame'] },
      planned: { 'look-for-queen': 11 },
    },
    {
      on: 'day 11, 12:00',
      may: { 'look for her': 'go' },
      says: 'cells may be left',
      due: ['Look for the queen'],
    },
    { on: 'day 14, 12:00', stage: 'check-due', may: { 'look for her': 'go' } },
  ],
};
