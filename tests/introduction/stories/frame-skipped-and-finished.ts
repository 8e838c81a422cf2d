import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a frame left out at the cut and one at the second look, each gone through in the same visit',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 }, { everyFrameChecked: false, framesSkipped: 1 })],
    ['day 7, 10:20', wrote.cut({ sealed: 1 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({}, { everyFrameChecked: false, framesSkipped: 1 })],
    ['day 10, 10:20', wrote.cut()],
  ],
  expect: [
    { on: 'day 7, 10:10', due: ['Look through every frame'] },
    { on: 'day 7, 11:00', without: ['look-through'], planned: { 'second-look': 10 } },
    {
      on: 'day 10, 10:10',
      may: { 'let her out': 'wait' },
      due: ['Second look for cells'],
      without: ['look-through'],
    },
    { on: 'day 10, 10:30', may: { 'let her out': 'go' }, without: ['look-through'] },
  ],
};
