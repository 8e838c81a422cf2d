import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'requeened in place with a queen at hand and no day planned: from the next day on to find the old queen is due in the afternoon too',
  setup: { startingPoint: 'requeened-in-place', openedAtMs: at(0) },
  diary: [['day 0, 11:00', wrote.arrived()]],
  expect: [
    { on: 'day 0, 15:00', planned: { 'find-old-queen': 1 } },
    { on: 'day 1, 9:00', due: ['Find the old queen and take her away'] },
    { on: 'day 1, 15:00', due: ['Find the old queen and take her away'] },
    { on: 'day 5, 15:00', due: ['Find the old queen and take her away'] },
  ],
};
