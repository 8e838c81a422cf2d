import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'flat and domed cappings in worker cells at the check: the brood is looked at again in some days',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true, droneBroodInWorkerCells: true })],
    ['day 31, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    { on: 'day 27, 12:00', planned: { 'check-sealed-brood': 31 }, without: ['graft'] },
    { on: 'day 31, 12:00', stage: 'accepted', offered: ['Graft from her'] },
  ],
};
