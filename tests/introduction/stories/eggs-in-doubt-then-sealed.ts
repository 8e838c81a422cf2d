import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'several eggs in a cell at first, then her worker brood is sealed: she may be grafted from that day on',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ severalEggsACell: true, eggsStand: 'bottom' })],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true, eggsStand: 'bottom' })],
  ],
  expect: [{ on: 'day 27, 12:00', offered: ['Graft from her'], planned: { graft: 27 } }],
};
