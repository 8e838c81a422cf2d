import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'drone brood in worker cells at the check; her sealed worker brood is there nine days later',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ droneBroodInWorkerCells: true })],
    ['day 26, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    { on: 'day 18, 10:00', finding: 'drone-layer' },
    { on: 'day 26, 12:00', finding: 'worker-brood', stage: 'accepted' },
  ],
};
