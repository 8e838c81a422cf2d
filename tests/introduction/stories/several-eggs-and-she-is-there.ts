import { usualCourse, wrote, type Story } from '../support/story.ts';

// Young and just released queens lay several eggs in a cell for some days: seen on the pages of two keepers’ associations.
export const story: Story = {
  name: 'she was seen, with several eggs in a cell: where they stand and the cappings decide, not one look',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ severalEggsACell: true })],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    { on: 'day 17, 11:00', may: { 'hang the cage': 'stop' }, says: 'hers for some days, or workers’' },
    { on: 'day 17, 11:00', may: { 'hang the cage': 'stop' }, notSays: 'Workers are laying' },
    { on: 'day 17, 12:00', finding: 'not-yet', findingSays: 'On the bottom they are hers' },
    { on: 'day 27, 12:00', finding: 'worker-brood' },
  ],
};
