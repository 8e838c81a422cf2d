import { wrote, type Story } from '../support/story.ts';

const nobodyLooked = { severalEggsACell: undefined, droneBroodInWorkerCells: undefined };

export const story: Story = {
  name: 'the old queen was not seen at a split with open brood and no cell: a week later nobody looks for laying workers',
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 }, { youngestBrood: 'sealed-only', ...nobodyLooked })],
    ['day 9, 9:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 9, 10:00',
      may: { 'hang the cage': 'go' },
      notSays: 'workers may lay',
      due: ['Hang the cage'],
    },
  ],
};
