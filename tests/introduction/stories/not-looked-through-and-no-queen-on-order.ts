import { at } from '../support/field-log.ts';
import type { Story } from '../support/story.ts';

export const story: Story = {
  name: 'a hopeless colony that nobody looked through, and no queen on order: nobody is sent to hang a queen',
  setup: { startingPoint: 'hopelessly-queenless', openedAtMs: at(0, 8) },
  diary: [],
  expect: [
    {
      on: 'day 4, 12:00',
      due: ['Look through every frame'],
      notDue: ['Hang the cage'],
      offered: ['Hang the cage'],
    },
  ],
};
