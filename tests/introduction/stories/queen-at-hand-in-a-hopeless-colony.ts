import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, and the queen has come: nobody waits for her any more',
  setup: { startingPoint: 'hopelessly-queenless', openedAtMs: at(0, 8) },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 11:00', wrote.arrived()],
  ],
  expect: [{ on: 'day 0, 12:00', stage: 'waiting-for-queen', stands: 'queen at hand' }],
};
