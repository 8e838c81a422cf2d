import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'several eggs a cell and no queen seen, then a clean look on every frame: nothing says yet that it is to be united',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, severalEggsACell: true })],
    ['day 20, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    { on: 'day 17, 12:00', offered: ['Unite it, or shake it out'] },
    { on: 'day 20, 12:00', without: ['unite'] },
  ],
};
