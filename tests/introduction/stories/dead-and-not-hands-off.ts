import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'balled to death: nobody waits for a queen that is dead, and cells may be looked for',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 13, 10:00', { kind: 'balled', rescued: false }],
  ],
  expect: [
    {
      on: 'day 13, 12:00',
      stage: 'failed',
      may: { 'cut the cells': 'go', 'look for her': 'wait' },
      notSays: 'get the queen killed',
    },
  ],
};
