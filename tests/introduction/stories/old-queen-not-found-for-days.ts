import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place with a queen at hand, and the old one not found for days: to find her is due in the afternoon too',
  setup: { startingPoint: 'requeened-in-place', expectedQueenMs: at(2), openedAtMs: at(0) },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
    ['day 2, 11:00', wrote.arrived()],
    ['day 3, 10:00', wrote.inspection({ youngestBrood: 'eggs' })],
  ],
  expect: [
    { on: 'day 2, 15:00', planned: { 'find-old-queen': 3 } },
    { on: 'day 3, 15:00', due: ['Find the old queen and take her away'], blocked: ['Hang the cage'] },
    { on: 'day 14, 15:00', due: ['Find the old queen and take her away'], planned: { 'cut-cells': 21 } },
  ],
};
