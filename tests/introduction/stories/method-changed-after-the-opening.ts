import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the candy end was opened, and the set-up says mesh since: she has the days that the candy takes',
  setup: { method: 'push-in-cage' },
  diary: [...usualCourse, ['day 10, 11:00', wrote.opened()]],
  expect: [
    {
      on: 'day 14, 12:00',
      may: { 'look for her': 'stop' },
      says: 'Bees take up to three days through the candy',
      stage: 'hands-off',
      planned: { 'look-for-queen': 17 },
    },
  ],
};
