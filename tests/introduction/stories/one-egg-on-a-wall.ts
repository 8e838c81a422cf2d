import { usualCourse, wrote, type Story } from '../support/story.ts';

// From the day on which workers are to be watched for, one sight is enough; before it one is looked at again.
export const story: Story = {
  name: 'an egg on a cell wall on day 10, seen once: a second look, before anybody unites',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'eggs', eggsStand: 'walls' })],
    ['day 11, 10:00', wrote.inspection({ youngestBrood: 'sealed-only' })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Eggs on the cell walls, seen once',
      without: ['unite'],
      until: { 'let her out': 11 },
    },
    {
      on: 'day 11, 9:00',
      due: ['One more look for cells'],
      without: ['unite', 'look-through'],
      todo: { 'one-more-look': ['several eggs a cell', 'seen once'] },
    },
    { on: 'day 11, 12:00', notSays: 'seen once', may: { 'let her out': 'go' }, without: ['unite'] },
  ],
};
