import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she comes so late that workers may lay: a look comes into the plan, and she hangs after it',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 24, 12:00', wrote.arrived()],
    ['day 25, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    {
      on: 'day 24, 13:00',
      may: { 'hang the cage': 'wait' },
      says: 'laying workers',
      blocked: ['Hang the cage'],
      due: ['Look through every frame'],
    },
    { on: 'day 25, 12:00', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
  ],
};
