import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen found and taken, the new one under the mesh',
  setup: { startingPoint: 'requeened-in-place', method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
    ...usualCourse.slice(1),
    ['day 11, 9:30', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 9, 12:00',
      may: { 'let her out': 'wait' },
      says: 'three days under the mesh',
      notDue: ['Lift the mesh'],
    },
    { on: 'day 11, 9:45', may: { 'let her out': 'go' }, due: ['Lift the mesh'] },
  ],
};
