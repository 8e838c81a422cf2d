import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the introduction was closed: nothing is due, and every question is answered so',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 28, 10:00', { kind: 'outcome', outcome: 'accepted' }],
  ],
  expect: [
    {
      on: 'day 40, 12:00',
      stage: 'closed',
      may: {
        'cut the cells': 'stop',
        'hang the cage': 'stop',
        'let her out': 'stop',
        'look for her': 'stop',
      },
      says: 'outcome',
      notDue: ['Look for the queen', 'Look again for the queen', 'Hang the cage'],
    },
  ],
};
