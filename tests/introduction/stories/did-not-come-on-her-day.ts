import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she was expected on day 6 and is not logged by day 8: nobody is told to hang her',
  setup: { expectedQueenMs: Date.UTC(2027, 4, 7, 8) },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 8, 14:00', wrote.arrived()],
  ],
  expect: [
    { on: 'day 8, 12:00', offered: ['Hang the cage'], notDue: ['Hang the cage'], due: ['Queen arrives'] },
    { on: 'day 8, 15:00', due: ['Hang the cage'] },
  ],
};
