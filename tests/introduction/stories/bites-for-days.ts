import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the bees bite day after day: every frame is looked through, then a test frame tells',
  diary: [
    ...usualCourse,
    ['day 10, 10:10', wrote.atCage({ behaviour: 'biting' })],
    ['day 11, 10:00', wrote.atCage({ behaviour: 'biting' })],
    ['day 11, 10:30', wrote.inspection({ youngestBrood: 'sealed-only' })],
    ['day 12, 10:00', wrote.atCage({ behaviour: 'biting' })],
    ['day 13, 10:00', wrote.atCage({ behaviour: 'biting' })],
    ['day 13, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 15, 10:00', wrote.broodTaken({ cellsOnIt: 2 })],
    ['day 15, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', may: { 'let her out': 'stop' }, notDue: ['Look through every frame'] },
    {
      on: 'day 11, 10:15',
      may: { 'let her out': 'stop' },
      due: ['One more look for cells'],
      without: ['look-through'],
    },
    { on: 'day 12, 9:00', due: ['Watch the bees at the cage'] },
    { on: 'day 13, 10:15', may: { 'let her out': 'stop' }, due: ['Put a test frame in'] },
    { on: 'day 15, 12:00', may: { 'let her out': 'go' } },
  ],
};
