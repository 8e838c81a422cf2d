import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the old queen was taken out, larvae were taken for young on day 7, and the test frame has cells: her day stands, the cut of day 7 counts',
  setup: { startingPoint: 'requeened-in-place' },
  diary: [
    ['day 0, 10:00', { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 }, { youngestBrood: 'young-larvae' })],
    ['day 7, 10:40', wrote.broodAdded({ asTestFrame: true })],
    ['day 10, 9:30', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 4 })],
  ],
  expect: [
    { on: 'day 7, 12:00', may: { 'hang the cage': 'stop' }, contradictions: 1 },
    { on: 'day 10, 9:40', contradictions: 0, due: ['Second look for cells'], notDue: ['Cut the cells'] },
  ],
};
