import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'day 40: nothing speaks of open candy any more',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 28, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    {
      on: 'day 40, 10:00',
      may: { 'cut the cells': 'wait' },
      says: 'Nothing to cut',
      notSays: 'candy is open',
      stage: 'accepted',
      offered: ['Graft from her'],
    },
  ],
};
