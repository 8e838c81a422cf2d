import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'bees bite at the mesh on day 11, and are calm two days later',
  setup: { method: 'push-in-cage' },
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.atCage({ behaviour: 'biting' })],
    ['day 13, 10:00', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'let her out': 'stop' },
      says: 'bite',
      notDue: ['Lift the mesh'],
      blocked: ['Lift the mesh'],
    },
    { on: 'day 13, 12:00', may: { 'let her out': 'go' } },
    { on: 'day 14, 9:00', due: ['Lift the mesh'] },
  ],
};
