import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'what practice says of the cage stands where the cage is hung and opened',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
  ],
  expect: [
    {
      on: 'day 7, 12:00',
      todo: {
        'hang-cage': [
          'Tape over the candy end',
          'leave the attendants in',
          'flat between two brood frames',
          'tied',
        ],
        'open-candy': ['tape off', 'Push a plug that is nearly through back', 'two days', 'three'],
      },
    },
  ],
};
