import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'only one frame of bees at the split: bees are added before she hangs',
  diary: [
    ['day 0, 10:00', wrote.split({ framesOfBees: 1 })],
    ['day 6, 10:00', wrote.arrived()],
    ['day 7, 10:00', wrote.inspection({ framesOfBees: 3, everyFrameChecked: false })],
  ],
  expect: [
    {
      on: 'day 6, 12:00',
      may: { 'hang the cage': 'wait' },
      due: ['Add bees, count the frames'],
      notDue: ['Hang the cage'],
    },
    { on: 'day 7, 12:00', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
  ],
};
