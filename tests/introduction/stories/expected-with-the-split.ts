import { type Story } from '../support/story.ts';
import { at } from '../support/field-log.ts';

export const story: Story = {
  name: 'the queen is expected on the day of the split: her cage is planned for that day, as it is once she is there',
  setup: { plannedSplitMs: at(3), expectedQueenMs: at(3) },
  diary: [],
  expect: [
    {
      on: 'day 0, 12:00',
      planned: { 'hang-cage': 3, 'cut-cells': 10 },
      todo: { split: ['Best a week before the queen comes'] },
    },
  ],
};
