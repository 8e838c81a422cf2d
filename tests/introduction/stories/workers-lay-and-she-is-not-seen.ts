import { usualCourse, wrote, type Story } from '../support/story.ts';

const workersLay = wrote.looked({
  queenSeen: false,
  eggsSeen: true,
  severalEggsACell: true,
  droneBroodInWorkerCells: true,
});

export const story: Story = {
  name: 'two looks saw several eggs a cell and drone brood, and never her: no third look is asked for',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', workersLay],
    ['day 21, 10:00', workersLay],
  ],
  expect: [
    { on: 'day 20, 12:00', planned: { 'look-again': 21 } },
    {
      on: 'day 26, 9:00',
      without: ['look-again', 'check-sealed-brood'],
      offered: ['Unite it, or shake it out'],
    },
  ],
};
