import { usualCourse, wrote, type Story } from '../support/story.ts';

// A worker’s abdomen often does not reach the bottom of a cell: common practice.
export const story: Story = {
  name: 'several eggs on the cell walls: workers lay, also where she was seen',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ severalEggsACell: true, eggsStand: 'walls' })],
  ],
  expect: [
    {
      on: 'day 17, 12:00',
      finding: 'drone-layer',
      findingSays: 'workers lay',
      stands: 'laying workers',
      offered: ['Unite it, or shake it out'],
    },
  ],
};
