import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame left out at the cut and at the second look: one visit, one line',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 }, { everyFrameChecked: false, framesSkipped: 1 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({}, { everyFrameChecked: false, framesSkipped: 1 })],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      due: ['Second look for cells'],
      without: ['look-through'],
      todo: { 'second-look': ['Frames were left out today', 'finish it in the same visit'] },
    },
    { on: 'day 11, 9:00', due: ['Second look for cells'], without: ['look-through'] },
  ],
};
