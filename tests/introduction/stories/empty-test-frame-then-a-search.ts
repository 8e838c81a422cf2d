import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'an empty test frame: the loose queen is looked for before another frame is given',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({ emerged: 1 })],
    ['day 11, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 13, 10:00', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 14, 10:00', wrote.cut()],
  ],
  expect: [
    { on: 'day 13, 12:00', notDue: ['Put a test frame in'] },
    { on: 'day 14, 9:00', due: ['Find the loose queen and take her away'], notDue: ['Put a test frame in'] },
    // Another frame comes four days after the one that told nothing.
    { on: 'day 15, 9:00', notDue: ['Put a test frame in'] },
    // From the frame on: no later last day while the search for her goes on.
    { on: 'day 16, 9:00', latest: { 'take-queen-out': 14 } },
    { on: 'day 18, 9:00', latest: { 'take-queen-out': 14 } },
  ],
};
