import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'no cell on two test frames, and she comes on that day: she is not hung beside a queen that nobody found',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 10:15', wrote.broodAdded({ asTestFrame: true })],
    ['day 2, 9:45', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 2, 10:00', wrote.cut({}, { youngestBrood: 'none' })],
    ['day 2, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 5, 8:30', wrote.arrived()],
    ['day 5, 9:45', wrote.broodTaken({ cellsOnIt: 0 })],
  ],
  expect: [
    {
      on: 'day 5, 10:00',
      may: { 'hang the cage': 'stop' },
      says: 'Two test frames in a row had no queen cell',
      due: ['Unite it, or shake it out'],
      notDue: ['Hang the cage'],
    },
  ],
};
