import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Common practice: a queen who lays nothing in two weeks is taken out; then another is given, or the bees are united over paper. */
export const story: Story = {
  name: 'a queen is seen at three looks and never an egg: she is taken out, and the next one is given, or the bees united',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 24, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 28, 10:00', wrote.looked({ eggsSeen: false })],
    ['day 29, 10:00', { kind: 'queen-dead' }],
  ],
  expect: [
    { on: 'day 25, 12:00', planned: { 'look-again': 28 }, without: ['take-queen-out'] },
    {
      on: 'day 28, 12:00',
      due: ['Take the failing queen out'],
      latest: { 'take-queen-out': 29 },
      todo: { 'take-queen-out': ['log her as dead', 'its next queen', 'over newspaper'] },
      offered: ['Unite it, or shake it out'],
    },
    {
      on: 'day 29, 12:00',
      without: ['take-queen-out'],
      offered: ['The next queen arrives', 'Unite it, or shake it out'],
      todo: { unite: ['unite them with it over paper'] },
    },
  ],
};
