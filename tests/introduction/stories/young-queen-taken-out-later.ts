import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a young queen of theirs is found and taken out after eggs were seen: whose eggs they were is open again',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked({ queenSeen: false })],
    ['day 26, 10:00', { kind: 'queen-removed', which: 'young-queen' }],
  ],
  expect: [
    { on: 'day 18, 12:00', stage: 'accepted' },
    { on: 'day 26, 12:00', stage: 'check-due', planned: { 'look-again': 30 } },
  ],
};
