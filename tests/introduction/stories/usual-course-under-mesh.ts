import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a bought queen pressed under the mesh on day 7: lifted at the second look, after three days there',
  setup: { method: 'push-in-cage' },
  diary: [
    ...usualCourse,
    ['day 10, 10:20', wrote.atCage()],
    ['day 11, 10:00', { kind: 'cage-taken-out', queen: 'left-in-nuc' }],
    ['day 18, 10:00', wrote.looked()],
  ],
  expect: [
    { on: 'day 9, 12:00', may: { 'let her out': 'wait' }, notDue: ['Lift the mesh'] },
    { on: 'day 9, 12:00', planned: { 'second-look': 10, 'open-candy': 10 } },
    { on: 'day 10, 12:00', may: { 'let her out': 'go' }, due: ['Lift the mesh'] },
    { on: 'day 11, 9:00', due: ['Lift the mesh'] },
    { on: 'day 12, 12:00', may: { 'look for her': 'stop' } },
    { on: 'day 18, 12:00', stage: 'accepted' },
  ],
};
