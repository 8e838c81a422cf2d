import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'cells were missed and a test frame is in: the look that is left is made on the day on which the frame comes out',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 3, sealed: 18 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({ sealed: 3 })],
    ['day 10, 10:20', wrote.broodAdded({ asTestFrame: true })],
  ],
  expect: [
    { on: 'day 11, 12:00', notDue: ['One more look for cells'] },
    { on: 'day 13, 11:00', due: ['One more look for cells', 'Take the test frame out'] },
  ],
};
