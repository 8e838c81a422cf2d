import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'weeks after her brood was proved neither she nor an egg is found, and cells stand: they are the last, and cut only for another queen',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
    ['day 45, 10:00', wrote.inspection({ youngestBrood: 'sealed-only', cells: { sealed: 6 } })],
    ['day 49, 10:00', wrote.looked({ cells: { open: 0, sealed: 6 } })],
  ],
  expect: [
    {
      on: 'day 45, 12:00',
      stands: 'a cell stands',
      notDue: ['Cut the cell that was seen'],
      offered: ['Cut the cell that was seen'],
      todo: { 'cut-after-release': ['the last from which', 'only where another queen is at hand'] },
      planned: { 'look-again': 49 },
    },
    { on: 'day 49, 12:00', due: ['Cut the cell that was seen'] },
  ],
};
