import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she laid for weeks, then a young queen is found and taken: whether she is there is looked for, and nobody says that she never laid',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
    ['day 40, 10:00', { kind: 'queen-removed', which: 'young-queen' }],
  ],
  expect: [{ on: 'day 40, 12:00', planned: { 'look-again': 44 }, without: ['unite', 'graft'] }],
};
