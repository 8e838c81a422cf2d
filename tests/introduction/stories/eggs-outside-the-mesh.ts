import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopeless, the queen under the mesh, single eggs outside it too: they are not hers',
  setup: { startingPoint: 'hopelessly-queenless', method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 11:00', wrote.hung()],
    ['day 5, 10:00', wrote.inspection({ youngestBrood: 'eggs', eggsOutsideMesh: true })],
    ['day 5, 10:10', wrote.atCage()],
  ],
  expect: [{ on: 'day 5, 11:00', may: { 'let her out': 'stop' }, notDue: ['Lift the mesh'] }],
};
