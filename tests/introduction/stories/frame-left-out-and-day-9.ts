import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two frames were left out on day 7 and never finished: on day 9 every frame is looked through, not on day 10',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 }, { everyFrameChecked: false, framesSkipped: 2 })],
    ['day 7, 10:30', wrote.hung()],
  ],
  expect: [
    { on: 'day 7, 12:00', due: ['Look through every frame'], planned: { 'second-look': 9 } },
    {
      on: 'day 9, 9:00',
      may: { 'let her out': 'stop', 'cut the cells': 'go' },
      due: ['Second look for cells'],
    },
  ],
};
