import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen is there two days before the split: the answer says how she is kept',
  setup: { plannedSplitMs: at(2) },
  diary: [['day 0, 9:00', wrote.arrived()]],
  expect: [
    {
      on: 'day 0, 12:00',
      planned: { split: 2, 'hang-cage': 2 },
      todo: { 'hang-cage': ['keep her with her attendants', 'drop of water'] },
    },
  ],
};
