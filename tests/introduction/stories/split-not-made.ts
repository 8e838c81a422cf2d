import { at } from '../support/field-log.ts';
import type { Story } from '../support/story.ts';

export const story: Story = {
  name: 'a split that is not made yet is greeted with the split, not with a virgin',
  setup: { plannedSplitMs: at(5) },
  diary: [],
  expect: [
    {
      on: 'day 0, 10:00',
      may: { 'let her out': 'wait', 'cut the cells': 'wait', 'hang the cage': 'wait' },
      says: 'No split is logged yet',
      notSays: 'irgin',
      without: ['test-frame-in', 'early-cut'],
    },
  ],
};
