import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own is looked for three days after the candy was opened: cells are not looked for before her days outside are over',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.hung()],
    ['day 1, 10:30', wrote.cut()],
    ['day 1, 11:00', wrote.opened()],
    ['day 4, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 8, 10:00', wrote.looked()],
  ],
  expect: [
    { on: 'day 4, 12:00', may: { 'cut the cells': 'wait' }, notDue: ['Look for cells beside her'] },
    { on: 'day 8, 12:00', due: ['Look for cells beside her'] },
  ],
};
