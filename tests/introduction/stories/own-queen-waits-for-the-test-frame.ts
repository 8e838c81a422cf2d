import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own, and a virgin may be loose: the cut waits for the day on which the test frame comes out',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split({ cellsAlreadyThere: 'not-looked' })],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.cut({ open: 3, sealed: 2 })],
    ['day 1, 10:15', wrote.hung()],
    ['day 1, 10:20', wrote.broodAdded({ asTestFrame: true })],
  ],
  expect: [
    { on: 'day 2, 9:00', notDue: ['Cut the cells'], planned: { 'cut-cells': 3, 'test-frame-out': 3 } },
    { on: 'day 3, 9:00', due: ['Cut the cells', 'Take the test frame out'] },
  ],
};
