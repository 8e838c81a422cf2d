import { wrote, type Story } from '../support/story.ts';
import { at } from '../support/field-log.ts';

/** Common practice: what stands is cut before a virgin may emerge; nobody cuts each day for a queen who is not there. */
export const story: Story = {
  name: 'a queen of one’s own was to come on day 1 and has not: cells are cut before a virgin may emerge, not every day',
  setup: { startingPoint: 'own-laying-queen', expectedQueenMs: at(1) },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 8, 10:00', wrote.cut({ sealed: 6 })],
    ['day 12, 9:00', wrote.arrived({ origin: 'own' })],
  ],
  expect: [
    { on: 'day 3, 12:00', notDue: ['Cut the cells'], planned: { 'cut-cells': 8 } },
    { on: 'day 8, 9:00', due: ['Cut the cells'] },
    { on: 'day 10, 12:00', notDue: ['Cut the cells'], offered: ['Cut the cells'] },
    { on: 'day 12, 9:30', due: ['Cut the cells', 'Hang the cage'] },
  ],
};
