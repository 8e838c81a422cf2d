import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'workers lay while a queen hangs in her cage: she is taken out of it before the bees are united',
  diary: [
    ...usualCourse,
    [
      'day 24, 10:00',
      wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true, droneBroodInWorkerCells: true }),
    ],
    ['day 24, 11:00', { kind: 'cage-taken-out', queen: 'in-the-cage' }],
  ],
  expect: [
    {
      on: 'day 24, 10:30',
      due: ['Unite it, or shake it out'],
      todo: { unite: ['Take the caged queen out first, for another nuc.'] },
    },
    { on: 'day 24, 12:00', due: ['Unite it, or shake it out'], todo: { unite: ['Shake the bees out'] } },
  ],
};
