import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place, and the queen comes before the day that was chosen: the old one is found on that day',
  setup: { startingPoint: 'requeened-in-place', plannedSplitMs: at(5), openedAtMs: at(0) },
  diary: [['day 0, 11:00', wrote.arrived()]],
  expect: [
    { on: 'day 1, 15:00', planned: { 'find-old-queen': 5 } },
    { on: 'day 6, 15:00', due: ['Find the old queen and take her away'] },
  ],
};
