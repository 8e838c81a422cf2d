import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen is seen now and then and never an egg: after three looks and two weeks no other look is asked for',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
    ['day 22, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 28, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    { on: 'day 23, 12:00', without: ['look-again'], planned: { 'check-sealed-brood': 28 } },
    { on: 'day 28, 12:00', without: ['look-again'], offered: ['Unite it, or shake it out'] },
  ],
};
