import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'many cells on day 7 and five more on day 10: looking again within the hour is the same look',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 12 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({ sealed: 5 })],
    ['day 10, 10:50', wrote.cut()],
    ['day 11, 10:00', wrote.cut()],
  ],
  expect: [
    { on: 'day 10, 11:00', may: { 'let her out': 'wait' }, says: 'Chance that a dangerous cell was missed' },
  ],
};
