import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'from under a mesh she is out at once: three full days count from its lifting',
  setup: { method: 'push-in-cage' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut()],
    ['day 11, 10:00', { kind: 'cage-taken-out' }],
  ],
  expect: [
    { on: 'day 13, 12:00', may: { 'look for her': 'stop' }, says: 'since the mesh was lifted' },
    { on: 'day 14, 12:00', may: { 'look for her': 'wait' } },
  ],
};
