import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'several eggs in a cell and no queen seen: a drone layer or laying workers',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, severalEggsACell: true })],
  ],
  expect: [{ on: 'day 17, 12:00', finding: 'drone-layer' }],
};
