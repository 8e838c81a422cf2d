import { wrote, type Story } from '../support/story.ts';

/** Eggs, and no sealed worker brood; who of two queens laid them nobody saw. */
const eggs = wrote.looked({ queenSeen: false, eggsSeen: true, sealedWorkerBroodSeen: false });

export const story: Story = {
  name: 'a queen of one’s own beside an old queen that nobody saw: eggs at every look, and no worker brood is ever sealed',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split({ oldQueen: 'not-seen' })],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.hung()],
    ['day 4, 10:00', wrote.cut({ open: 6 }, { youngestBrood: 'young-larvae' })],
    ['day 4, 10:30', wrote.opened()],
    ['day 12, 10:00', eggs],
    ['day 22, 10:00', eggs],
    ['day 26, 10:00', eggs],
    ['day 30, 10:00', wrote.looked({ queenSeen: true, eggsSeen: true, sealedWorkerBroodSeen: true })],
  ],
  expect: [
    { on: 'day 22, 12:00', planned: { 'check-sealed-brood': 26 }, without: ['unite'] },
    {
      on: 'day 26, 12:00',
      may: { 'look for her': 'go' },
      without: ['check-sealed-brood', 'look-again'],
      offered: ['Unite it, or shake it out'],
      todo: { unite: ['Eggs at two looks, and no worker brood was ever sealed'] },
    },
    { on: 'day 30, 12:00', without: ['unite'], finding: 'worker-brood' },
  ],
};
