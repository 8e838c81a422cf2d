import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'cells of unknown age in a queenless colony: the cut is due that day, not overdue since before it began',
  setup: { startingPoint: 'queenless-with-cells', openedAtMs: at(0, 8) },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'sealed-only', cells: { open: 0, sealed: 5 } })],
    ['day 0, 11:00', wrote.arrived()],
  ],
  expect: [{ on: 'day 0, 12:00', due: ['Cut the cells'], latest: { 'cut-cells': 0 } }],
};
