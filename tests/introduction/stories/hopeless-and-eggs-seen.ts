import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'taken for hopelessly queenless, and single eggs stand in it: a queen may be laying, and none is hung before that is known',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 9:00', wrote.arrived()],
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 0, 10:20', wrote.broodAdded({ asTestFrame: true })],
    ['day 2, 10:20', wrote.broodTaken({ cellsOnIt: 6 })],
  ],
  expect: [
    {
      on: 'day 0, 10:10',
      may: { 'hang the cage': 'stop' },
      says: 'A queen or workers are laying in there',
      due: ['Put a test frame in'],
      notDue: ['Hang the cage'],
    },
    { on: 'day 2, 12:00', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
  ],
};
