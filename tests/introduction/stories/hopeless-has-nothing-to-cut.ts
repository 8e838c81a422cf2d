import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless: a look and a test frame, no cut of day 7 and no look of day 10',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 9:00', wrote.arrived()],
    ['day 0, 12:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 0, 12:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 2, 10:00', wrote.broodTaken({ cellsOnIt: 5 })],
    // The frame does not tell of workers that lay: that look is made again.
    ['day 2, 10:20', wrote.inspection({ youngestBrood: 'none' })],
    ['day 2, 10:30', wrote.hung()],
  ],
  expect: [
    {
      on: 'day 0, 9:30',
      due: ['Look through every frame'],
      without: ['split', 'cut-cells', 'second-look'],
      stands: 'to be looked through',
    },
    { on: 'day 1, 10:00', without: ['cut-cells', 'second-look'], planned: { 'test-frame-out': 2 } },
    { on: 'day 3, 12:00', may: { 'let her out': 'go' } },
    { on: 'day 4, 9:00', due: ['Open the candy end'] },
  ],
};
