import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen comes on day 14: no cell is left, she hangs a day and is let out',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 14, 9:00', wrote.arrived()],
    ['day 14, 10:00', wrote.hung()],
    ['day 15, 12:00', wrote.atCage()],
  ],
  expect: [
    { on: 'day 12, 12:00', stage: 'waiting-for-queen', notDue: ['Open the candy end'] },
    { on: 'day 14, 9:30', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
    { on: 'day 14, 12:00', may: { 'let her out': 'wait' }, says: 'Let her hang a day' },
    { on: 'day 15, 12:30', may: { 'let her out': 'go' } },
  ],
};
