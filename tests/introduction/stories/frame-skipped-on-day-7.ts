import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'one frame of four was left out on day 7',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 }, { everyFrameChecked: false, framesSkipped: 1 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut()],
    ['day 11, 10:00', wrote.cut()],
  ],
  expect: [
    // Known since the cut, and not from one day to the next.
    { on: 'day 8, 12:00', planned: { 'second-look': 9, 'open-candy': 9 } },
    { on: 'day 10, 11:00', may: { 'let her out': 'wait' }, says: 'One more look first' },
    { on: 'day 11, 11:00', may: { 'let her out': 'go' } },
  ],
};
