import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two people write down one visit that saw drone brood: her brood is looked at again some days later',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked()],
    ['day 29, 10:00', wrote.looked({ droneBroodInWorkerCells: true })],
    ['day 29, 10:20', wrote.looked({ droneBroodInWorkerCells: true })],
  ],
  expect: [{ on: 'day 29, 12:00', planned: { 'check-sealed-brood': 33 } }],
};
