import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame is left out on day 8: it is gone through in the same visit, by the next day at the latest',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 8, 10:00', wrote.cut({ sealed: 8 }, { everyFrameChecked: false, framesSkipped: 1 })],
    ['day 8, 10:30', wrote.hung()],
  ],
  expect: [
    {
      on: 'day 8, 11:00',
      may: { 'cut the cells': 'go', 'let her out': 'wait' },
      due: ['Look through every frame'],
      planned: { 'second-look': 10 },
      todo: { 'look-through': ['finish it in the same visit'] },
    },
    { on: 'day 9, 9:00', may: { 'cut the cells': 'go' }, due: ['Look through every frame'] },
    { on: 'day 10, 9:00', without: ['look-through'] },
  ],
};
