import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Eggs last three days (Mussen et al. 1987): what a look passed over is told by one that comes later than that. */
export const story: Story = {
  name: 'hung on day 25, no egg on day 26: the look that tells more has one day, and keeps it',
  diary: [
    ...usualCourse.filter(([, { kind }]) => kind !== 'cage-hung'),
    ['day 25, 10:00', wrote.arrived()],
    ['day 25, 10:30', wrote.hung()],
    ['day 26, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 30, 10:00', wrote.cut({}, { youngestBrood: 'none' })],
  ],
  expect: [
    {
      on: 'day 26, 12:00',
      may: { 'let her out': 'wait' },
      until: { 'let her out': 30 },
      planned: { 'open-candy': 30, 'one-more-look': 30 },
    },
    {
      on: 'day 27, 12:00',
      may: { 'let her out': 'wait' },
      until: { 'let her out': 30 },
      planned: { 'open-candy': 30, 'one-more-look': 30 },
      notDue: ['Look through every frame', 'One more look for cells'],
    },
    { on: 'day 30, 9:00', may: { 'let her out': 'wait' }, due: ['One more look for cells'] },
    { on: 'day 30, 10:30', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
