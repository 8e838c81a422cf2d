import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a caged queen is taken out for another nuc: this one waits for its next queen, and she is not at hand',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 6, 10:00', wrote.arrived()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 8, 10:00', { kind: 'cage-taken-out', queen: 'in-the-cage', forAnotherNuc: true }],
    ['day 10, 10:00', wrote.cut()],
    ['day 11, 10:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    { on: 'day 8, 12:00', may: { 'hang the cage': 'go' }, says: 'No queen is logged as arrived.' },
    { on: 'day 10, 12:00', stands: 'ready, no queen yet', offered: ['Hang the cage'] },
    { on: 'day 11, 12:00', stands: 'queen at hand', due: ['Hang the cage'] },
  ],
};
