import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she flew off as she was hung, and an inspection meets a laying queen: she came back, and nobody looks for another',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 5 })],
    ['day 7, 10:30', wrote.arrived()],
    ['day 7, 11:00', { kind: 'queen-escaped', to: 'outside' }],
    ['day 11, 10:00', wrote.inspection({ layingQueenSeen: true, youngestBrood: 'eggs' })],
  ],
  expect: [
    { on: 'day 8, 12:00', stage: 'failed' },
    {
      on: 'day 11, 12:00',
      stage: 'accepted',
      contradictions: 0,
      without: ['take-queen-out', 'unite', 'queen-arrives'],
    },
  ],
};
