import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Common practice: a queen that flew off is looked for once some days later; if she is not found, the next is given. */
export const story: Story = {
  name: 'she flew off and was not found days later: nobody waits for a candy end that is not there',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 8, 10:00', { kind: 'queen-escaped', to: 'outside' }],
    ['day 11, 10:00', wrote.cut()],
    ['day 11, 10:20', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      may: { 'look for her': 'wait', 'hang the cage': 'wait' },
      says: 'was not found since',
      notSays: 'has not been let out',
      offered: ['The next queen arrives'],
    },
  ],
};
