import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, and sealed cells are found: one cut misses some, so every frame is looked through again',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 9:00', wrote.arrived()],
    ['day 0, 10:00', wrote.cut({ sealed: 6 }, { youngestBrood: 'sealed-only' })],
    ['day 0, 10:30', wrote.hung()],
  ],
  expect: [{ on: 'day 2, 12:00', may: { 'let her out': 'stop' }, planned: { 'second-look': 3 } }],
};
