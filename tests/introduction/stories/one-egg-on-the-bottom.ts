import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'one egg in a cell, on its bottom: hers, though she was not seen; on the walls it is not hers',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, eggsStand: 'bottom' })],
    ['day 21, 10:00', wrote.looked({ queenSeen: false, eggsStand: 'walls' })],
  ],
  expect: [
    { on: 'day 17, 12:00', stage: 'accepted', finding: 'not-yet', findingSays: 'Her eggs were seen' },
    { on: 'day 21, 12:00', finding: 'drone-layer', findingSays: 'on the cell walls' },
  ],
};
