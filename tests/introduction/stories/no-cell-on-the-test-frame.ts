import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'no queen cell on the test frame after two days: a queen of some kind may be loose',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 10:30', wrote.broodTaken({ cellsOnIt: 0 })],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Take the test frame out',
      notDue: ['Open the candy end'],
    },
    {
      on: 'day 12, 12:00',
      may: { 'let her out': 'stop' },
      says: 'No queen cell was started on the test frame',
      notDue: ['Open the candy end'],
    },
    { on: 'day 13, 9:00', due: ['Find the loose queen and take her away'] },
  ],
};
