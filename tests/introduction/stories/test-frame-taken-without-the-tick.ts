import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame comes out without the tick for the test frame: the keeper is asked whether it was that one',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 10:00', wrote.broodTaken({ asTestFrame: false, cellsOnIt: 4 })],
  ],
  expect: [
    { on: 'day 11, 12:00', notDue: ['Take the test frame out'] },
    {
      on: 'day 14, 12:00',
      due: ['Take the test frame out'],
      todo: { 'test-frame-out': ['Was that the marked frame? Then correct the entry'] },
      may: { 'let her out': 'wait' },
      says: 'Was that the marked frame? Then correct the entry',
    },
  ],
};
