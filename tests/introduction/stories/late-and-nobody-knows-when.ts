import { usualCourse, type Story } from '../support/story.ts';
import { at } from '../support/field-log.ts';

/** Common practice: a cage hangs a day, she is looked for a week after, her brood is sealed some ten days after her first eggs. */
const afterShe = { 'hang-cage': 0, 'open-candy': 1, 'look-for-queen': 8, 'check-sealed-brood': 18 } as const;
const later = [
  'Hang the cage',
  'Open the candy end',
  'Look for the queen',
  'Check the sealed brood',
] as const;

export const story: Story = {
  name: 'she was expected on day 8 and nobody knows when she comes: what hangs on her counts from that day, without a date',
  setup: { expectedQueenMs: at(8) },
  diary: usualCourse.filter(([, { kind }]) => kind !== 'cage-hung'),
  expect: [
    { on: 'day 8, 12:00', planned: { 'open-candy': 10 }, afterSheComes: {} },
    { on: 'day 9, 12:00', offered: later, afterSheComes: afterShe },
    { on: 'day 12, 12:00', offered: later, notDue: later, afterSheComes: afterShe },
    { on: 'day 12, 23:00', notDue: later, afterSheComes: afterShe },
    { on: 'day 25, 12:00', offered: later, afterSheComes: afterShe },
  ],
};
