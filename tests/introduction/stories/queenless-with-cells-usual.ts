import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'found queenless, cells sealed, no egg and no young larva: cut, looked again, opened',
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 0, 10:00', wrote.cut({ sealed: 7 }, { youngestBrood: 'old-larvae' })],
    ['day 1, 10:00', wrote.arrived()],
    ['day 1, 11:00', wrote.hung()],
    ['day 5, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 8, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 8, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 1, 10:30', may: { 'hang the cage': 'go' }, planned: { 'cut-cells': 2, 'hang-cage': 2 } },
    { on: 'day 1, 12:00', notDue: ['Open the candy end'] },
    { on: 'day 8, 12:00', notDue: ['Cut the cells'] },
  ],
};
