import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she flew off as she was to be hung, and two days later a queen walks in the nuc: she came back, and is left alone',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 7, 10:20', wrote.arrived()],
    ['day 7, 10:40', { kind: 'queen-escaped', to: 'outside' }],
    ['day 9, 10:00', wrote.looked({ eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 9, 12:00',
      stage: 'hands-off',
      stands: 'out by accident',
      may: { 'hang the cage': 'stop', 'look for her': 'stop' },
      without: ['take-queen-out', 'hang-cage'],
    },
  ],
};
