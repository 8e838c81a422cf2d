import { wrote, type Story } from '../support/story.ts';

/** Older logs have splits with no frames of bees: nobody makes one without bees, so they were not counted. */
export const story: Story = {
  name: 'an older split says no frames of bees: they were not counted, and nobody is told that no bees are left',
  diary: [
    ['day 0, 10:00', wrote.split({ framesOfBees: 0 })],
    ['day 6, 10:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 6, 12:00',
      may: { 'hang the cage': 'go' },
      says: 'Nobody logged how many frames of bees there are',
      without: ['add-bees'],
    },
  ],
};
