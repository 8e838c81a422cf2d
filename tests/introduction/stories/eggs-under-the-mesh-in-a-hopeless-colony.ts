import { wrote, type Story } from '../support/story.ts';

const begin = [
  ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ['day 0, 10:10', wrote.broodAdded({ asTestFrame: true })],
  ['day 2, 10:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 3 })],
  ['day 2, 11:00', wrote.arrived()],
  ['day 2, 12:00', wrote.hung()],
] as const;

export const story: Story = {
  name: 'hopeless, the queen under the mesh, eggs under it alone: workers do not lay, and she is let out',
  setup: { startingPoint: 'hopelessly-queenless', method: 'push-in-cage' },
  diary: [
    ...begin,
    ['day 6, 10:00', wrote.inspection({ youngestBrood: 'eggs', eggsOutsideMesh: false })],
    ['day 6, 10:10', wrote.atCage()],
  ],
  expect: [{ on: 'day 6, 11:00', may: { 'let her out': 'go' }, due: ['Lift the mesh'] }],
};
