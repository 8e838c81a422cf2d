import { usualCourse, wrote, type Story } from '../support/story.ts';

const cellSeen = { cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } };

/** A queen emerges 15 to 17 days after the egg, and her cell is sealed after 7.5 to 8.5: Mussen et al. 1987; the second from memory. */
export const story: Story = {
  name: 'a sealed cell at the check that nobody cut: from the day on which it must have opened a virgin is looked for',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked(cellSeen)],
    ['day 28, 10:00', { kind: 'queen-removed', which: 'virgin' }],
    ['day 36, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    { on: 'day 26, 9:00', stands: 'a cell stands', due: ['Cut the cell that was seen'] },
    {
      on: 'day 27, 9:00',
      stage: 'check-due',
      stands: 'a virgin may be out',
      may: { 'cut the cells': 'wait' },
      says: 'by now its virgin is out',
      due: ['Find the loose queen and take her away'],
      without: ['cut-after-release'],
      todo: { 'take-queen-out': ['log the look on every frame'] },
    },
    {
      on: 'day 28, 12:00',
      stage: 'accepted',
      due: ['Check the sealed brood'],
      without: ['take-queen-out', 'cut-after-release', 'look-again'],
    },
    { on: 'day 36, 12:00', stage: 'accepted', without: ['take-queen-out', 'cut-after-release'] },
  ],
};
