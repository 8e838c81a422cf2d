import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen came on her day and went to another nuc: she is not overdue, and the next one has no day',
  setup: { expectedQueenMs: at(6) },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 6, 10:00', wrote.arrived()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 8, 10:00', { kind: 'cage-taken-out', queen: 'in-the-cage', forAnotherNuc: true }],
  ],
  expect: [
    {
      on: 'day 8, 12:00',
      notDue: ['Queen arrives', 'Hang the cage'],
      without: ['queen-arrives'],
      todo: { 'hang-cage': ['No queen is logged or expected'] },
      afterSheComes: { 'hang-cage': 0, 'open-candy': 1, 'look-for-queen': 8, 'check-sealed-brood': 18 },
    },
  ],
};
