import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled and dead under the lifted mesh: the next queen is hung, not let out at once',
  setup: { method: 'push-in-cage' },
  diary: [
    ...usualCourse,
    ['day 11, 10:00', { kind: 'cage-taken-out', queen: 'left-in-nuc' }],
    ['day 11, 10:10', { kind: 'balled', rescued: false }],
    ['day 13, 10:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    { on: 'day 11, 12:00', stage: 'failed', notDue: ['Lift the mesh', 'Look for the queen'] },
    { on: 'day 13, 12:00', may: { 'let her out': 'stop' }, says: 'balled', notDue: ['Lift the mesh'] },
  ],
};
