import { at } from '../support/field-log.ts';
import type { Story } from '../support/story.ts';

export const story: Story = {
  name: 'a laying queen of one’s own, for a split that is still to be made',
  setup: { startingPoint: 'own-laying-queen', plannedSplitMs: at(4) },
  diary: [],
  expect: [
    {
      on: 'day 1, 10:00',
      may: { 'cut the cells': 'wait', 'hang the cage': 'wait' },
      says: 'split',
      planned: { split: 4 },
      stands: 'planned',
    },
  ],
};
