import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'nobody looked for swarm cells at the split: a test frame with cells on it settles it',
  diary: [
    ['day 0, 10:00', wrote.split({ cellsAlreadyThere: 'not-looked' })],
    ...usualCourse.slice(1),
    ['day 10, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 10:30', wrote.broodTaken({ cellsOnIt: 4 })],
  ],
  expect: [
    { on: 'day 10, 10:20', may: { 'let her out': 'wait' }, says: 'Chance that a dangerous cell was missed' },
    { on: 'day 12, 12:00', may: { 'let her out': 'go' } },
  ],
};
