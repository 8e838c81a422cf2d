import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'drone brood in worker cells at the check: she is not accepted',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 24, 10:00', wrote.looked({ droneBroodInWorkerCells: true })],
  ],
  expect: [
    {
      on: 'day 24, 12:00',
      stage: 'check-due',
      stands: 'drone brood',
      offered: ['Unite it, or shake it out'],
    },
  ],
};
