import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'moved five metres, and out of range two days later: until then its old bees fly home, and a later move tells nothing of it',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 0, 11:00', { kind: 'moved', metres: 5 }],
    ['day 2, 10:00', { kind: 'moved', metres: 6000 }],
  ],
  expect: [
    { on: 'day 1, 12:00', stage: 'foragers-leaving' },
    { on: 'day 2, 12:00', stage: 'waiting-to-cut' },
  ],
};
