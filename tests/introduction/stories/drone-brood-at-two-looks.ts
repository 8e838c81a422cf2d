import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'drone brood in worker cells at two looks: nothing more is checked, the nuc is united',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked()],
    ['day 29, 10:00', wrote.looked({ droneBroodInWorkerCells: true })],
    ['day 36, 10:00', wrote.looked({ droneBroodInWorkerCells: true })],
  ],
  expect: [{ on: 'day 37, 12:00', without: ['look-again'], offered: ['Unite it, or shake it out'] }],
};
