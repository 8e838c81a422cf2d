import { usualCourse, type Story } from '../support/story.ts';
import { at } from '../support/field-log.ts';

export const story: Story = {
  name: 'the queen was expected on day 8 and has not come: her delivery is late, not the hanging of her cage',
  setup: { expectedQueenMs: at(8) },
  diary: usualCourse.filter(([, { kind }]) => kind !== 'cage-hung'),
  expect: [
    {
      on: 'day 12, 12:00',
      due: ['Queen arrives'],
      notDue: ['Hang the cage'],
      offered: ['Hang the cage'],
      todo: { 'hang-cage': ['She is not logged as arrived'] },
    },
  ],
};
