import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a laying queen of one’s own, put under the mesh',
  setup: { startingPoint: 'own-laying-queen', method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 10:00', wrote.cut({ open: 3 })],
    ['day 1, 10:15', wrote.hung()],
    ['day 1, 10:20', wrote.atCage()],
    ['day 5, 10:00', wrote.cut({ open: 4 })],
    ['day 5, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 1, 11:00', may: { 'let her out': 'wait' }, says: 'three days', notDue: ['Lift the mesh'] },
    { on: 'day 5, 9:00', due: ['Cut the cells'], notDue: ['Lift the mesh'] },
    { on: 'day 5, 11:00', may: { 'let her out': 'go' }, due: ['Lift the mesh'] },
  ],
};
