import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'workers lay by two signs in one look, and the bees are to be united: no second look for cells is asked for beside it',
  diary: [
    ['day 0, 10:00', wrote.split()],
    [
      'day 24, 10:00',
      wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true, droneBroodInWorkerCells: true }),
    ],
  ],
  expect: [
    { on: 'day 27, 12:00', due: ['Unite it, or shake it out'], notDue: ['Second look for cells'] },
    { on: 'day 30, 12:00', due: ['Unite it, or shake it out'], offered: ['Second look for cells'] },
  ],
};
