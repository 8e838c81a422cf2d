import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she is found dead two days after the release, and a virgin in the nuc: nothing is said of a virgin beside her',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 12, 10:00', { kind: 'queen-dead' }],
    ['day 12, 10:20', wrote.inspection({ youngestBrood: 'none', virginSeen: true })],
  ],
  expect: [
    {
      on: 'day 12, 12:00',
      due: ['Find the loose queen and take her away'],
      todo: { 'take-queen-out': ['is not logged as taken away'] },
    },
  ],
};
