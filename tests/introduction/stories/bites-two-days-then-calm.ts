import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Common practice: bees that go on biting have a cell, a virgin or a queen. That they are calm once does not show that none is there. */
export const story: Story = {
  name: 'the bees bite on two days and are calm on the third: the look for the cause still comes before she is let out',
  diary: [
    ...usualCourse,
    ['day 10, 10:10', wrote.atCage({ behaviour: 'biting' })],
    ['day 11, 10:00', wrote.atCage({ behaviour: 'biting' })],
    ['day 12, 10:00', wrote.atCage()],
    ['day 12, 15:00', wrote.inspection({ youngestBrood: 'sealed-only' })],
  ],
  expect: [
    {
      on: 'day 12, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Nobody has looked for the cause since',
      due: ['One more look for cells'],
      todo: { 'one-more-look': ['Nobody has looked for the cause since'] },
      blocked: ['Open the candy end'],
    },
    { on: 'day 12, 16:00', may: { 'let her out': 'go' }, says: 'every frame was looked through since' },
  ],
};
