import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was not seen, and no egg but hers stands under the mesh: the last egg gets a date',
  setup: { method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 11:00', wrote.hung()],
    ['day 7, 10:00', wrote.cut({ sealed: 6 }, { youngestBrood: 'eggs', eggsOutsideMesh: false })],
  ],
  expect: [
    {
      on: 'day 7, 12:00',
      may: { 'let her out': 'wait' },
      says: 'no egg but hers under the mesh',
      notSays: 'not known when the last egg',
      notDue: ['Look through every frame'],
    },
  ],
};
