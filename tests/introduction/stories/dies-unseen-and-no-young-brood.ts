import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'dead a week after the release, and a look on every frame finds sealed brood alone: she laid nothing',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', { kind: 'queen-dead' }],
    ['day 17, 10:30', wrote.inspection({ youngestBrood: 'sealed-only' })],
    ['day 18, 10:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 18, 11:00', wrote.hung({ queenId: 'queen-two' })],
  ],
  expect: [{ on: 'day 20, 12:00', may: { 'let her out': 'go' } }],
};
