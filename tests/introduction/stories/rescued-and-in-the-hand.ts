import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled at the check and rescued: she is in the hand, is to be caged again and not to be looked for',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', { kind: 'balled', rescued: true }],
  ],
  expect: [
    {
      on: 'day 17, 11:00',
      may: { 'hang the cage': 'go', 'look for her': 'wait' },
      due: ['Hang the cage'],
      notDue: ['Look for the queen'],
      latest: { 'hang-cage': 18 },
    },
  ],
};
