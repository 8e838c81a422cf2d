import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs are seen under the mesh: they are hers',
  setup: { method: 'push-in-cage' },
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'eggs' })],
    ['day 10, 10:10', wrote.atCage()],
  ],
  expect: [{ on: 'day 11, 10:00', may: { 'let her out': 'go' } }],
};
