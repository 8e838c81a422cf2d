import { usualCourse, wrote, type Story } from '../support/story.ts';

const noAnswer = { severalEggsACell: undefined, droneBroodInWorkerCells: undefined };

export const story: Story = {
  name: 'day 24: a look that says nothing of several eggs or drone brood is no look for laying workers',
  diary: [
    ...usualCourse,
    ['day 24, 10:00', wrote.cut({}, { youngestBrood: 'none', ...noAnswer })],
    ['day 24, 10:10', wrote.atCage()],
  ],
  expect: [{ on: 'day 24, 12:00', may: { 'let her out': 'wait' }, says: 'Look for laying workers first' }],
};
