import { usualCourse, wrote, type Story } from '../support/story.ts';

const missed = wrote.looked({ queenSeen: false, eggsSeen: false });

/** Common practice: cells on a frame of young brood mean no queen; without any, one is there that nobody finds. */
export const story: Story = {
  name: 'a queen is seen once, never an egg, and missed at the third look: a test frame tells, then she is looked for, then it is shaken out',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', missed],
    ['day 22, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 28, 10:00', missed],
    ['day 28, 13:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 30, 13:00', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 31, 13:00', missed],
    ['day 36, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 38, 12:00', wrote.broodTaken({ cellsOnIt: 0 })],
  ],
  expect: [
    {
      on: 'day 28, 12:00',
      due: ['Put a test frame in'],
      planned: { 'test-frame-out': 30 },
      offered: ['Unite it, or shake it out'],
    },
    { on: 'day 30, 15:00', due: ['Take the failing queen out'], notDue: ['Put a test frame in'] },
    { on: 'day 32, 12:00', without: ['take-queen-out', 'test-frame-in'] },
    { on: 'day 36, 9:00', due: ['Put a test frame in'] },
    { on: 'day 38, 13:00', due: ['Unite it, or shake it out'], without: ['test-frame-in', 'look-again'] },
  ],
};
