import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'still in her cage a week after the candy was opened: free her, and nothing is accepted',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ cageEmpty: false, eggsSeen: false })],
    ['day 17, 10:20', wrote.opened()],
    ['day 24, 10:00', wrote.looked()],
  ],
  expect: [
    { on: 'day 17, 10:10', stage: 'check-due', stands: 'still caged', due: ['Free her from the cage'] },
    {
      on: 'day 18, 10:00',
      stage: 'candy-open',
      may: { 'look for her': 'stop' },
      without: ['free-queen', 'look-again'],
      planned: { 'look-for-queen': 24 },
    },
    { on: 'day 24, 12:00', stage: 'accepted' },
  ],
};
