import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'opened against the answer, and days later she sits in the cage: a virgin may walk there, so she is not freed',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 11:00', wrote.arrived()],
    ['day 0, 12:00', wrote.hung()],
    ['day 1, 12:30', wrote.opened()],
    ['day 5, 10:00', wrote.looked({ cageEmpty: false, eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 5, 12:00',
      stands: 'still caged',
      may: { 'let her out': 'stop' },
      says: 'A virgin may be loose',
      blocked: ['Free her from the cage'],
    },
  ],
};
