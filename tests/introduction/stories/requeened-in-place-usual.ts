import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen found and taken, nothing split: cut on day 7, looked again on day 10, opened',
  setup: { startingPoint: 'requeened-in-place' },
  diary: [
    ['day 0, 10:00', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
    ...usualCourse.slice(1),
    ['day 10, 10:20', wrote.atCage()],
  ],
  expect: [
    {
      on: 'day 3, 12:00',
      may: { 'cut the cells': 'wait' },
      notDue: ['Cut the cells', 'Put a test frame in'],
    },
    { on: 'day 7, 9:00', may: { 'cut the cells': 'go' }, due: ['Cut the cells'] },
    { on: 'day 10, 9:00', due: ['Second look for cells'] },
    { on: 'day 10, 12:00', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
