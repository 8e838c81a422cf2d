import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she comes a month after the split: one look that finds no egg is not enough, another one on a later day is',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 30, 9:00', wrote.arrived()],
    ['day 30, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 30, 10:20', wrote.hung()],
    ['day 32, 10:00', wrote.cut({}, { youngestBrood: 'none' })],
    ['day 32, 10:10', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 31, 11:00',
      may: { 'let her out': 'wait' },
      says: 'workers lay',
      notDue: ['Open the candy end'],
    },
    { on: 'day 32, 11:00', may: { 'let her out': 'go' } },
  ],
};
