import { usualCourse, wrote, type Story } from '../support/story.ts';

const drones = { eggsSeen: true, droneBroodInWorkerCells: true };

/** Common practice: a queen who lays drones is taken out, and another given, or the bees united. */
export const story: Story = {
  name: 'drone brood at two looks, and she walks there: she is taken out; where nobody saw her, uniting is offered',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked(drones)],
    ['day 31, 10:00', wrote.looked(drones)],
    ['day 33, 10:00', wrote.looked({ ...drones, queenSeen: false })],
  ],
  expect: [
    { on: 'day 28, 12:00', without: ['take-queen-out'] },
    {
      on: 'day 31, 12:00',
      due: ['Take the failing queen out'],
      offered: ['Unite it, or shake it out'],
      todo: { 'take-queen-out': ['she lays drones', 'log her as dead'] },
    },
    { on: 'day 33, 12:00', offered: ['Unite it, or shake it out'], without: ['take-queen-out'] },
  ],
};
