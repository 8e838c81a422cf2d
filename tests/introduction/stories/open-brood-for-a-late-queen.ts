import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she comes late, and open brood is given meanwhile: cut and looked through anew, then let out',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 16, 10:00', wrote.broodAdded()],
    ['day 23, 10:00', wrote.cut({ sealed: 5 }, { youngestBrood: 'old-larvae' })],
    ['day 23, 10:30', wrote.arrived()],
    ['day 23, 11:00', wrote.hung()],
    ['day 26, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
  ],
  expect: [
    { on: 'day 17, 9:00', planned: { 'cut-cells': 23, 'second-look': 26 } },
    { on: 'day 26, 12:00', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
  ],
};
