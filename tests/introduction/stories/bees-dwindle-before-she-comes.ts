import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'half a frame of bees is left on day 2: bees are added before the queen comes, and beside a cage that hangs',
  diary: [
    ['day 0, 10:00', wrote.split()],
    [
      'day 2, 10:00',
      wrote.inspection({ youngestBrood: 'eggs', everyFrameChecked: false, framesOfBees: 0.5 }),
    ],
    ['day 2, 15:00', wrote.inspection({ youngestBrood: 'eggs', everyFrameChecked: false, framesOfBees: 3 })],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    [
      'day 9, 10:00',
      wrote.inspection({ youngestBrood: 'sealed-only', everyFrameChecked: false, framesOfBees: 1 }),
    ],
  ],
  expect: [
    { on: 'day 2, 12:00', due: ['Add bees, count the frames'] },
    { on: 'day 2, 16:00', without: ['add-bees'] },
    { on: 'day 9, 12:00', due: ['Add bees, count the frames'] },
  ],
};
