import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopeless, the queen under the mesh, eggs and nobody wrote where: hers or workers’, so that they are looked for again',
  setup: { startingPoint: 'hopelessly-queenless', method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 2, 10:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 3 })],
    ['day 2, 11:00', wrote.arrived()],
    ['day 2, 12:00', wrote.hung()],
    ['day 6, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 6, 10:10', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 6, 11:00',
      may: { 'let her out': 'wait' },
      says: 'outside the mesh',
      due: ['Look through every frame'],
    },
  ],
};
