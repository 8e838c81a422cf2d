import { usualCourse, wrote, type Story } from '../support/story.ts';

const virginTaken = { kind: 'queen-removed', which: 'virgin' } as const;

export const story: Story = {
  name: 'three emerged cells, and one virgin found',
  // On a farm whose looks miss few cells: the chance stays well under the limit.
  setup: { missRate: { alpha: 2, beta: 38, learntFrom: 6 } },
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({ emerged: 3 })],
    ['day 10, 10:30', virginTaken],
    ['day 13, 10:00', wrote.cut()],
    ['day 13, 10:30', virginTaken],
    ['day 13, 10:40', virginTaken],
  ],
  expect: [
    { on: 'day 11, 10:00', may: { 'let her out': 'stop' }, says: '2 more virgins may be out' },
    { on: 'day 13, 10:05', may: { 'let her out': 'stop' }, says: '2 more virgins may be out' },
    { on: 'day 14, 10:00', may: { 'let her out': 'go' }, says: 'No virgin can be loose' },
  ],
};
