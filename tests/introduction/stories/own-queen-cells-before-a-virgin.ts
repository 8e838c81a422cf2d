import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own let out from under the mesh on day 4: cells are looked for before a virgin can emerge, after three full days',
  setup: { startingPoint: 'own-laying-queen', method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:10', wrote.hung()],
    ['day 4, 9:00', wrote.cut({ open: 6 })],
    ['day 4, 9:20', { kind: 'cage-taken-out', queen: 'left-in-nuc' }],
  ],
  expect: [
    { on: 'day 5, 12:00', planned: { 'look-for-queen': 7 } },
    { on: 'day 6, 12:00', may: { 'look for her': 'stop' } },
    { on: 'day 7, 10:30', may: { 'look for her': 'go' }, due: ['Look for the queen'] },
  ],
};
