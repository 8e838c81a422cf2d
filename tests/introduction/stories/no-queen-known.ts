import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'cells are cut and no queen is logged or expected: nothing is late, the keeper is asked for her delivery',
  diary: usualCourse.filter(([, { kind }]) => kind !== 'cage-hung'),
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'hang the cage': 'go' },
      notDue: ['Hang the cage'],
      offered: ['Hang the cage'],
      todo: { 'hang-cage': ['No queen is logged or expected'] },
    },
  ],
};
