import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'drone brood in worker cells was seen today: the sealed brood is looked at again in some days, not at once',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked()],
    ['day 32, 10:00', wrote.looked({ droneBroodInWorkerCells: true })],
  ],
  expect: [
    { on: 'day 32, 12:00', planned: { 'check-sealed-brood': 36 }, offered: ['Unite it, or shake it out'] },
  ],
};
