import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, and a young queen that laid is found: her larvae can be raised, so cells are cut twice',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 0, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 2, 10:00', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 2, 10:30', { kind: 'queen-removed', which: 'young-queen' }],
    ['day 4, 10:00', wrote.arrived()],
    ['day 4, 10:30', wrote.hung()],
    ['day 9, 10:00', wrote.cut({ sealed: 15 }, { youngestBrood: 'old-larvae' })],
  ],
  expect: [
    { on: 'day 5, 9:00', planned: { 'cut-cells': 9, 'second-look': 12 } },
    { on: 'day 9, 12:00', may: { 'let her out': 'wait' }, planned: { 'second-look': 12 } },
    { on: 'day 11, 12:00', may: { 'let her out': 'wait' }, says: 'second complete look' },
  ],
};
