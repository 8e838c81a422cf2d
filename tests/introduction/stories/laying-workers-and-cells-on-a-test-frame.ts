import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'drone brood in worker cells, then queen cells on a test frame: the bees want a queen',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only', droneBroodInWorkerCells: true })],
    ['day 10, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 10:30', wrote.broodTaken({ cellsOnIt: 5 })],
    ['day 13, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 13, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', may: { 'let her out': 'stop' }, says: 'Workers are laying' },
    { on: 'day 13, 12:00', may: { 'let her out': 'go' } },
  ],
};
