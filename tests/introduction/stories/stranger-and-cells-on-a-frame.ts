import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen was seen though none was let out, and is not found: cells on a test frame show that she is gone',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 3 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 10, 10:20', wrote.looked({ cageEmpty: false, eggsSeen: false })],
    ['day 13, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 15, 10:00', wrote.broodTaken({ cellsOnIt: 4 })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'hang the cage': 'stop' },
      due: ['Find the loose queen and take her away'],
      stands: 'a queen is in it',
    },
    {
      on: 'day 15, 12:00',
      may: { 'hang the cage': 'go' },
      without: ['take-queen-out'],
      stands: 'ready, no queen yet',
    },
  ],
};
