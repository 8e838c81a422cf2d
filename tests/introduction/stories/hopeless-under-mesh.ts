import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, the queen under the mesh: nothing to cut, days under the mesh',
  setup: { startingPoint: 'hopelessly-queenless', method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 11:00', wrote.hung()],
  ],
  expect: [
    { on: 'day 1, 10:30', may: { 'hang the cage': 'go' }, due: ['Press the mesh over her'] },
    { on: 'day 2, 12:00', notDue: ['Lift the mesh', 'Cut the cells', 'Second look for cells'] },
  ],
};
