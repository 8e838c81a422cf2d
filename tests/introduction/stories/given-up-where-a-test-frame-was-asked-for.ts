import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'given up while the chance of a missed cell asked for a test frame: none is planned any more',
  diary: [
    ['day 0, 10:00', wrote.split({ cellsAlreadyThere: 'present-and-removed', cellsTakenOut: 1 })],
    ['day 8, 10:00', wrote.cut({ sealed: 3 })],
    ['day 8, 10:20', wrote.hung()],
    ['day 11, 10:00', wrote.cut()],
    ['day 12, 10:00', { kind: 'outcome', outcome: 'given-up' }],
  ],
  expect: [
    { on: 'day 11, 10:05', due: ['Put a test frame in'] },
    { on: 'day 12, 12:00', stage: 'closed', without: ['test-frame-in', 'test-frame-out'] },
  ],
};
