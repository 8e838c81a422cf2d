import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'of two cages one was taken out: nothing is left that does not fit, also once the other is opened',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 8, 10:00', wrote.hung({ queenId: 'queen-two' })],
    ['day 8, 11:00', { kind: 'cage-taken-out', queen: 'in-the-cage' }],
    ['day 10, 10:00', wrote.cut()],
    ['day 10, 11:00', wrote.opened()],
  ],
  expect: [
    { on: 'day 8, 10:30', contradictions: 1, due: ['Take one of the two cages out'] },
    { on: 'day 8, 12:00', contradictions: 0 },
    { on: 'day 10, 12:00', contradictions: 0, stage: 'candy-open' },
  ],
};
