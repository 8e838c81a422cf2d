import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen before died after she laid, and the next is introduced: since when it is queenless is known, the cells are not',
  before: {
    diary: [
      ...usualCourse,
      ['day 10, 10:30', wrote.opened()],
      ['day 17, 10:00', wrote.looked()],
      ['day 25, 10:00', { kind: 'queen-dead' }],
      ['day 25, 10:10', { kind: 'outcome', outcome: 'queen-lost' }],
    ],
  },
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [['day 27, 9:00', wrote.arrived({ queenId: 'queen-two' })]],
  expect: [
    {
      on: 'day 27, 12:00',
      may: { 'let her out': 'stop' },
      says: 'which cells stood when this introduction began',
    },
  ],
};
