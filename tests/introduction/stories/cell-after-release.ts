import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she is seen at the check, and a sealed queen cell too; then it is taken down',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } })],
    [
      'day 18, 10:00',
      wrote.looked({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 }, cellsTakenDown: true }),
    ],
  ],
  expect: [
    { on: 'day 17, 12:00', stage: 'check-due' },
    { on: 'day 18, 12:00', stage: 'accepted' },
  ],
};
